import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../src/core/base/outcome.js';
import { NO_HINTS, parseReferenceRequest, parseStripeHints } from '../../../src/core/base/request.js';

describe('parseReferenceRequest', () => {
  it('looks for any ruler when nothing is said', () => {
    expect(parseReferenceRequest({})).toEqual({ kind: 'ruler', unit: 'auto' });
    expect(parseReferenceRequest({ ruler: 'inch' })).toEqual({ kind: 'ruler', unit: 'inch' });
  });

  it('reads two points and a length', () => {
    expect(parseReferenceRequest({ points: '120, 80.5,3400,95,12in' })).toEqual({
      kind: 'points',
      from: [120, 80.5],
      to: [3400, 95],
      lengthMm: 304.8,
    });
  });

  it('reads a sheet with its corners, either way round', () => {
    const there = parseReferenceRequest({ sheet: 'A4', corners: '0,0,297,0,297,210,0,210' });
    expect(there).toEqual({
      kind: 'sheet',
      size: 'a4',
      corners: [
        [0, 0],
        [297, 0],
        [297, 210],
        [0, 210],
      ],
    });
    expect(() => parseReferenceRequest({ sheet: 'a4', corners: '0,210,297,210,297,0,0,0' })).not.toThrow();
    expect(parseReferenceRequest({ sheet: 'id1' })).toEqual({ kind: 'sheet', size: 'id1', corners: null });
  });

  it('reads the density of a scan', () => {
    expect(parseReferenceRequest({ density: '11.811' })).toEqual({ kind: 'density', pxPerMm: 11.811 });
  });

  it.each([
    [{ points: '1,2,3,4' }, /^points: expected/],
    [{ points: '1,2,3,4,300' }, /^points: expected a length with its unit/],
    [{ points: '1,,3,4,300mm' }, /^points: expected/],
    [{ points: '5,5,5,5,300mm' }, /two points are the same/],
    [{ points: '0,0,9,9,1in', ruler: 'mm' }, /points and ruler each give the scale/],
    [{ sheet: 'a4', density: '12' }, /sheet and density each give the scale/],
    [{ sheet: 'a5' }, /^sheet: expected a4, letter, id1/],
    [{ ruler: 'cm' }, /^ruler: expected/],
    [{ corners: '0,0,1,0,1,1,0,1' }, /^corners: say what lies between/],
    [{ sheet: 'a4', corners: '0,0,1,0,1,1' }, /^corners: expected eight/],
    [{ sheet: 'a4', corners: '0,0,10,10,10,0,0,10' }, /without crossing/],
    [{ density: '0' }, /^density: expected/],
    [{ density: '300dpi' }, /^density: expected/],
  ])('refuses %j', (words, message) => {
    expect(() => parseReferenceRequest(words)).toThrow(UsageError);
    expect(() => parseReferenceRequest(words)).toThrow(message);
  });
});

describe('parseStripeHints', () => {
  it('takes nothing typed for nothing said', () => {
    expect(parseStripeHints({})).toEqual(NO_HINTS);
  });

  it.each([
    ['0', 0],
    ['45', 45],
    ['180', 0],
    ['-30', 150],
    ['92.5', 92.5],
  ])('reads the direction %s', (direction, directionDeg) => {
    expect(parseStripeHints({ direction })).toEqual({ ...NO_HINTS, directionDeg });
  });

  it('reads a region and a number of bands', () => {
    expect(parseStripeHints({ region: '40,30, 2000,1500.5', bands: '6' })).toEqual({
      directionDeg: null,
      region: { x: 40, y: 30, width: 2000, height: 1500.5 },
      bands: 6,
    });
  });

  it.each([
    [{ direction: 'up' }, /^direction: expected .* received "up"/],
    [{ direction: '270' }, /^direction: expected/],
    [{ direction: '' }, /^direction: expected/],
    [{ region: '1,2,300' }, /^region: expected x,y,width,height/],
    [{ region: '1,2,300,400,5' }, /^region: expected/],
    [{ region: '1,2,x,400' }, /^region: expected/],
    [{ region: '1,2,300,40' }, /^region: expected at least 100 pixels each way, received 300 x 40/],
    [{ region: '1,2,-300,400' }, /^region: expected at least 100/],
    [{ bands: '1' }, /^bands: expected/],
    [{ bands: '2.5' }, /^bands: expected/],
    [{ bands: 'six' }, /^bands: expected .* received "six"/],
  ])('refuses %j', (words, message) => {
    expect(() => parseStripeHints(words)).toThrow(UsageError);
    expect(() => parseStripeHints(words)).toThrow(message);
  });
});
