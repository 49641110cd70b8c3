/** Writes to the standard output and waits until it is out. */
export const print = (text: string): Promise<void> =>
  new Promise((done, fail) => {
    process.stdout.write(text, (error) => (error ? fail(error) : done()));
  });

/** One line to the standard error. A file's name may hold anything: what would break the line or steer the terminal is escaped. */
export const complain = (line: string): void => {
  process.stderr.write(`${oneLine(line)}\n`);
};

/** Control characters as JSON writes them, those that turn the direction of writing among them. */
export const oneLine = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: controls are what is looked for.
  text.replace(/[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]/g, (mark) =>
    mark < ' ' ? JSON.stringify(mark).slice(1, -1) : `\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
