import { describe, expect, it } from 'vitest';
import {
  aimReading,
  lengthReading,
  paceChangeReading,
  paceReading,
} from '../../src/putt/rounding.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';

describe('figures as they are read', () => {
  it('gives inches under 3 ft of break, then half feet', () => {
    const figure = (inches: number) => aimReading(inchesToMetres(inches), 'imperial').figure;
    expect(figure(11.8)).toBe('12 in');
    expect(figure(35.4)).toBe('35 in');
    expect(figure(35.6)).toBe('3 ft');
    expect(figure(38.9)).toBe('3 ft');
    expect(figure(39.1)).toBe('3½ ft');
    expect(figure(90)).toBe('7½ ft');
  });

  it('names the side, and calls straight what rounds to nothing', () => {
    expect(aimReading(inchesToMetres(2), 'imperial').side).toBe('left');
    expect(aimReading(inchesToMetres(-2), 'imperial').side).toBe('right');
    expect(aimReading(inchesToMetres(-0.4), 'imperial')).toEqual({ side: 'straight', figure: '0' });
    expect(aimReading(0.004, 'metric')).toEqual({ side: 'straight', figure: '0' });
  });

  it('has a metric counterpart: centimetres, then tenths of a metre', () => {
    expect(aimReading(0.299, 'metric').figure).toBe('30 cm');
    expect(aimReading(-0.894, 'metric')).toEqual({ side: 'right', figure: '89 cm' });
    expect(aimReading(0.896, 'metric').figure).toBe('0.9 m');
    expect(aimReading(1.26, 'metric').figure).toBe('1.3 m');
  });

  it('says when a ball is sent away from the hole', () => {
    expect(aimReading(Number.POSITIVE_INFINITY, 'imperial').figure).toBe('away');
  });

  it('rounds pace to half feet under 10 ft and whole feet over, or tenths and halves of a metre', () => {
    expect(paceReading(feetToMetres(8.45), 'imperial')).toBe('8½ ft');
    expect(paceReading(feetToMetres(11.03), 'imperial')).toBe('11 ft');
    expect(paceReading(feetToMetres(9.9), 'imperial')).toBe('10 ft');
    expect(paceReading(3.36, 'metric')).toBe('3.4 m');
    expect(paceReading(7.3, 'metric')).toBe('7.5 m');
  });

  it('rounds pace coarser from 10 ft and from 5 m on', () => {
    const feet = (value: number): string => paceReading(feetToMetres(value), 'imperial');
    expect([9.7, 9.74, 9.76, 10.4, 10.6].map(feet)).toEqual([
      '9½ ft',
      '9½ ft',
      '10 ft',
      '10 ft',
      '11 ft',
    ]);
    const metres = (value: number): string => paceReading(value, 'metric');
    expect([4.94, 4.99, 5.2, 5.3].map(metres)).toEqual(['4.9 m', '5.0 m', '5.0 m', '5.5 m']);
  });

  it('tells a change of pace in half feet under 3 ft, then whole feet; tenths under 1 m, then halves', () => {
    const feet = (value: number): string =>
      paceChangeReading(feetToMetres(10 + value), feetToMetres(10), 'imperial');
    expect([0.2, 0.3, 2.7, 2.8, 3.4, 3.6].map(feet)).toEqual(['0', '+½', '+2½', '+3', '+3', '+4']);
    expect([-0.2, -2.7, -3.6].map(feet)).toEqual(['0', '\u22122½', '\u22124']);
    const metres = (value: number): string => paceChangeReading(3 + value, 3, 'metric');
    expect([0.04, 0.06, 0.94, 1.2, 1.3].map(metres)).toEqual(['0', '+0.1', '+0.9', '+1.0', '+1.5']);
    expect(metres(-1.3)).toBe('\u22121.5');
  });

  it('shows a length without idle digits', () => {
    expect(lengthReading(feetToMetres(15), 'imperial')).toBe('15 ft');
    expect(lengthReading(2.5, 'metric')).toBe('2.5 m');
    expect(lengthReading(2, 'metric')).toBe('2 m');
  });
});
