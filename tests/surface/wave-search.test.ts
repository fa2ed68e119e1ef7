import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import { HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import { instruments, rover } from '../accuracy/instruments.js';
import { type RoughGreen, roughGreen } from '../accuracy/rough-greens.js';
import { atDepth } from '../depth.js';
import { LENGTH, rippled, rows, SIZE } from './rippled.js';

/**
 * Ripples of 5 mm from trough to crest, a metre from crest to crest. Seeds 133500 to 133502, 133511, 133513, 133514 and 133516 set the search; the
 * others
 * judge it.
 */

type Fitted = ReturnType<typeof fitSurface>;

/** Share of the ground where the true grade lies in its 95 % interval. */
const gradeHeld = (green: RoughGreen, { surface }: Fitted): number => {
  const [want, got] = [new Float64Array(JET_SIZE), new Float64Array(JET_SIZE)];
  const c = new Float64Array(3);
  let held = 0;
  const places = green.outline.flatMap(([x, y]) =>
    [0.2, 0.4, 0.6, 0.8].map((share) => [share * x, 10 + share * (y - 10)] as const),
  );
  for (const [x, y] of places) {
    green.at(x, y, want);
    surface.at(x, y, got);
    surface.trust!.gradientCovariance(x, y, c);
    const grade = Math.hypot(got[HX], got[HY]);
    const [u, v] = [got[HX] / grade, got[HY] / grade];
    const sd = Math.sqrt(u * u * c[0] + 2 * u * v * c[1] + v * v * c[2]);
    if (Math.abs(grade - Math.hypot(want[HX], want[HY])) <= 1.96 * sd) held++;
  }
  return held / places.length;
};

const lengthOf = ({ kx, ky }: { readonly kx: number; readonly ky: number }): number =>
  (2 * Math.PI) / Math.hypot(kx, ky);

const isRipple = ({ report }: Fitted): boolean =>
  report.waves.length === 1 &&
  Math.abs(lengthOf(report.waves[0]) - LENGTH) < 0.05 &&
  Math.abs(report.waves[0].size - SIZE) < 0.001;

describe('ripples that lie on the points as ground would', () => {
  it('are found where rows a metre apart meet crests a metre apart, and are in the grade’s doubt', () => {
    const green = rippled(roughGreen(133_510, 0), 0.4 + Math.PI / 2, 1);
    const fitted = fitSurface(rows(green, seeded(133_510), 1, 0.12, 0.4));
    expect(isRipple(fitted)).toBe(true);
    expect(gradeHeld(green, fitted)).toBeGreaterThan(0.85);
  });

  it('are no drift where they are walked along', { tags: 'long' }, () => {
    const green = rippled(roughGreen(133_511, 0), 0.4 + Math.PI / 2, 1);
    const fitted = fitSurface(rows(green, seeded(133_511), 0.5, 0.05, 0.4));
    expect(fitted.report.shared.drift).toBe(null);
    expect(isRipple(fitted)).toBe(true);
  });

  it('are found on four greens in five, walked anyhow, tiers among them', { tags: 'long' }, () => {
    const greens = atDepth(6, 6, 40);
    const all = Array.from({ length: greens }, (_, k) => {
      const random = seeded(133_520 + k);
      const green = rippled(roughGreen(133_512, k), Math.PI * random.uniform(), random.uniform());
      const survey = rover({ spacing: 1, noise: 0.003 })(green, 133_600 + k);
      const fitted = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
      return { found: isRipple(fitted), held: gradeHeld(green, fitted) };
    });
    expect(all.filter(({ found }) => found).length).toBeGreaterThanOrEqual(0.8 * greens);
    expect(all.reduce((sum, { held }) => sum + held / greens, 0)).toBeGreaterThan(0.85);
  });
});

describe('ground without ripples', () => {
  const none = (green: RoughGreen, ground: Parameters<typeof fitSurface>[0]): void => {
    const { report } = fitSurface(ground);
    expect([green.name, report.waves]).toEqual([green.name, []]);
  };

  it('has none on quite even rows, where a long wave of the ground would pass for a short one', () => {
    const green = roughGreen(133_501, 3);
    none(green, rows(green, seeded(133_501), 1, 0.02, 0.7));
  });

  it('has none on a tier, nor where the receiver drifts', { tags: 'long' }, () => {
    for (let k = 0; k < atDepth(3, 3, 20); k++) {
      const green = roughGreen(133_517, k);
      const tier = roughGreen(133_515, k % 2 === 0 ? 2 : 7);
      none(tier, rows(tier, seeded(133_720 + k), k % 3 === 0 ? 0.7 : 1, 0.02, 0.3 * k));
      const survey = instruments.get('rover, drift')!(green, 133_760 + k);
      none(green, { ...groundOfSurvey(survey), outline: green.outline });
    }
  });
});
