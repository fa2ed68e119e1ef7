import { describe, expect, it } from 'vitest';
import { aimReading, lengthReading, paceReading } from '../../src/putt/rounding.js';
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

  it('shows a length without idle digits', () => {
    expect(lengthReading(feetToMetres(15), 'imperial')).toBe('15 ft');
    expect(lengthReading(2.5, 'metric')).toBe('2.5 m');
    expect(lengthReading(2, 'metric')).toBe('2 m');
  });
});
