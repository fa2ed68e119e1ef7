import type { Assessment, EarlierLocation, RuleFinding } from '../event/assess-location.js';
import { RULES } from '../event/guidance.js';
import { metresToFeet, metresToInches, metresToPaces, type UnitSystem } from '../units.js';

/** The sentence that stands with every advice on hole locations. */
export const ADVICE = 'This is advice by published guidance; the Committee decides.';

const trim = (value: number, digits: number): string => `${Number(value.toFixed(digits))}`;

/** Digits by which a figure that breaks its limit can be told from it. */
const digitsFor = (value: number, limit: number, digits: number): number => {
  let enough = digits;
  while (value !== limit && enough < 4 && trim(value, enough) === trim(limit, enough)) enough++;
  return enough;
};

/** "3.2 paces from the edge", and when that is not kept, "(4 asked)". */
const measured = (
  { value, limit, kept }: RuleFinding,
  unit: { readonly of: (si: number) => number; readonly digits: number; readonly name: string },
  asked: 'asked' | 'at most',
): { readonly figure: string; readonly limit: string } => {
  const [v, l] = [unit.of(value), unit.of(limit)];
  const digits = kept ? unit.digits : digitsFor(v, l, unit.digits);
  return {
    figure: `${trim(v, digits)} ${unit.name}`,
    limit: kept ? '' : ` (${trim(l, digits)} ${asked})`,
  };
};

const PACES = { of: metresToPaces, digits: 1, name: 'paces' };
const PERCENT = { of: (grade: number) => grade * 100, digits: 1, name: '%' };
const ROLL = {
  imperial: { of: metresToInches, digits: 0, name: 'in' },
  metric: { of: (metres: number) => metres * 100, digits: 0, name: 'cm' },
} as const;

/** A finding as measured, with what is asked when it is not kept: "2.1 paces from the edge (4 asked)". */
const findingWords = (
  finding: RuleFinding,
  nearest: EarlierLocation | null,
  around: number,
  units: UnitSystem,
): string => {
  const round = units === 'metric' ? `${trim(around, 1)} m` : `${trim(metresToFeet(around), 1)} ft`;
  switch (finding.rule) {
    case 'edge': {
      const { figure, limit } = measured(finding, PACES, 'asked');
      return `${figure} from the edge${limit}`;
    }
    case 'grade': {
      const { figure, limit } = measured(finding, PERCENT, 'at most');
      return `grade up to ${figure} within ${round}${limit}`;
    }
    case 'evenness': {
      const { figure, limit } = measured(finding, PERCENT, 'at most');
      return `grade uneven by ${figure} within ${round}${limit}`;
    }
    case 'stopping': {
      if (finding.value === Infinity) return 'a ball from above does not stop on the green';
      const { figure, limit } = measured(finding, ROLL[units], 'at most');
      return `a ball from above runs ${figure} past${limit}`;
    }
    case 'turf': {
      if (nearest === null) return 'no earlier hole';
      const { figure, limit } = measured(finding, PACES, 'asked');
      return `${figure} from ${nearest.name}${limit}`;
    }
  }
};

/** Everything measured at a place, or only what refuses it. */
export const assessmentWords = (
  assessment: Assessment,
  around: number,
  units: UnitSystem,
  which: 'all' | 'refusing',
): string =>
  RULES.flatMap((rule) => assessment.findings[rule] ?? [])
    .filter((one) =>
      which === 'refusing' ? !one.kept : one.rule !== 'turf' || assessment.nearest !== null,
    )
    .map((one) => findingWords(one, assessment.nearest, around, units))
    .join('; ');

/** The figures of an assessment for a machine: SI, null for what is not finite. */
export const assessmentJson = (assessment: Assessment): object => {
  const figure = (finding: RuleFinding | undefined): object | null =>
    finding === undefined
      ? null
      : {
          value: Number.isFinite(finding.value) ? Number(finding.value.toFixed(5)) : null,
          limit: Number(finding.limit.toFixed(5)),
          kept: finding.kept,
        };
  const { edge, grade, evenness, stopping, turf } = assessment.findings;
  return {
    keeps_guidance: assessment.kept,
    score: Number(assessment.score.toFixed(4)),
    edge_m: figure(edge),
    steepest_grade: figure(grade),
    unevenness_grade: figure(evenness),
    runs_past_m: figure(stopping),
    from_earlier_m: {
      ...figure(turf),
      earlier: assessment.nearest?.name ?? null,
    },
  };
};
