import { describe, expect, it } from 'vitest';
import { oneLine } from '../../src/cli/print.js';

describe('oneLine', () => {
  it('escapes what would break the line or steer the terminal, and nothing else', () => {
    expect(oneLine('tunic\nfront\t"1" é 条.jpg')).toBe('tunic\\nfront\\t"1" é 条.jpg');
    expect(oneLine('\x1b[2Jgone\x7f\x9b\u2028\u202e')).toBe('\\u001b[2Jgone\\u007f\\u009b\\u2028\\u202e');
  });
});
