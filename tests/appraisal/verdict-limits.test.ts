import { describe, expect, it } from 'vitest';
import { type Evidence, judge } from '../../src/appraisal/verdict.js';

/** Each demand on a survey by itself: just met, and just missed. The limits are this program's own. */

const sound: Evidence = {
  spacing: { mean: 1, nearest: 1, coverage: 1 } as Evidence['spacing'],
  quality: { aimRightTo: 0.01, directionRight: 1 } as Evidence['quality'],
  steps: [],
  stepPower: 0.01,
  stepAim: 0.01,
  adrift: false,
  ownWord: false,
  outlierShare: 0,
  length: (metres) => `${metres.toFixed(2)} m`,
  small: (metres) => `${(1000 * metres).toFixed(1)} mm`,
};

const step = (height: number) => [{ height }] as unknown as Evidence['steps'];
const spacing = (more: Partial<Evidence['spacing']>) => ({
  spacing: { ...sound.spacing, ...more },
});
const quality = (more: Partial<Evidence['quality']>) => ({
  quality: { ...sound.quality, ...more },
});

describe('the verdict on a survey', () => {
  it('is break tables where all is met', () => {
    expect(judge(sound).use).toBe('break-tables');
  });

  it.each([
    ['coverage', spacing({ coverage: 0.95 }), spacing({ coverage: 0.949 })],
    ['mean spacing', spacing({ mean: 2.2 }), spacing({ mean: 2.21 })],
    ['nearest points', spacing({ nearest: 2.2 }), spacing({ nearest: 2.21 })],
    // Half a hole of 108 mm, less a tenth.
    ['aim', quality({ aimRightTo: 0.0486 }), quality({ aimRightTo: 0.0487 })],
    // The same, less a quarter.
    [
      'aim adrift',
      { ...quality({ aimRightTo: 0.0405 }), adrift: true },
      { ...quality({ aimRightTo: 0.0406 }), adrift: true },
    ],
    ['a step', { steps: step(-0.0099) }, { steps: step(-0.01) }],
    // Half a hole.
    ['a step that may be hidden', { stepAim: 0.054 }, { stepAim: 0.0541 }],
    ['its own word', { ownWord: false }, { ownWord: true }],
    ['outliers', { outlierShare: 0.02 }, { outlierShare: 0.021 }],
  ] as const)('is arrows only for %s', (_, met, missed) => {
    expect(judge({ ...sound, ...met }).use).toBe('break-tables');
    const { use, line, tables } = judge({ ...sound, ...missed });
    expect(use).toBe('fall-arrows');
    expect(tables.filter((demand) => !demand.met)).toHaveLength(1);
    expect(line).toMatch(/^fit for fall arrows only \(asked: .*; found: .*\)$/);
  });

  it.each([
    ['coverage', spacing({ coverage: 0.8 }), spacing({ coverage: 0.799 })],
    ['spacing', spacing({ mean: 5 }), spacing({ mean: 5.01 })],
    ['direction', quality({ directionRight: 0.95 }), quality({ directionRight: 0.949 })],
  ] as const)('is the outline only for %s', (_, met, missed) => {
    expect(judge({ ...sound, ...met }).use).not.toBe('outline');
    expect(judge({ ...sound, ...missed }).use).toBe('outline');
  });

  it('never rounds a share up to a limit that it misses', () => {
    const { tables } = judge({ ...sound, ...spacing({ coverage: 0.94996 }) });
    expect(tables[0]).toMatchObject({ has: '94.9 %', met: false });
  });
});
