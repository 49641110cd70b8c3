// The least that any program does with a photo: decodes it to raw pixels. Started by ratio-bench.ts.
import sharp from 'sharp';

const { data } = await sharp(process.argv[2]).raw().toBuffer({ resolveWithObject: true });
console.log(data.length);
