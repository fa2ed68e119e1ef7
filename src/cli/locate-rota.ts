import { existsSync } from 'node:fs';
import type { GreenWorth } from '../appraisal/worth.js';
import { courseSurfaces } from '../book/course-surfaces.js';
import { stimpWords } from '../book/ground-words.js';
import { crossingBare } from '../book/surveyed-only.js';
import { writeBeside } from '../book/write-beside.js';
import type { Course, Hole } from '../course/course.js';
import {
  type Assessment,
  besideOthers,
  type EarlierLocation,
  siteFor,
} from '../event/assess-location.js';
import { writeDayFile } from '../event/day-file.js';
import { type DayLocation, outlineInFrame } from '../event/day-locations.js';
import { type Guidance, RULES } from '../event/guidance.js';
import {
  candidatesByOutline,
  candidatesOn,
  isRefused,
  type LocationCandidate,
  zoneOf,
} from '../event/location-areas.js';
import { balanceByDay, spreadRota } from '../event/rota.js';
import { type RotaPlaces, rotaPlaces } from '../event/rota-places.js';
import { InputFault } from '../fault.js';
import { locationWords } from '../page/kit/location-words.js';
import { metresToPaces, type UnitSystem } from '../units.js';
import { guidanceOf, speedArgument } from './guidance-options.js';
import { ADVICE, assessmentJson, assessmentWords } from './guidance-words.js';
import { dayChosen, earlierOn, type LocateArguments } from './locate-arguments.js';
import { printJson, printText, say, showProgress } from './output.js';
import { sayWorth, worthJson } from './worth-words.js';

/** One hole of the rota: its places by day, each judged beside the earlier and the other days. */
interface RotaHole {
  readonly hole: Hole;
  /** Null where the green has no survey. */
  readonly worth: GreenWorth | null;
  readonly places: RotaPlaces;
  readonly refusals: Readonly<Record<string, number>>;
  readonly days: readonly {
    readonly candidate: LocationCandidate;
    readonly assessment: Assessment;
  }[];
}

const countOf = (asked: number, first: number): number => {
  if (Number.isInteger(asked) && asked >= 1 && first + asked - 1 <= 99 && asked <= 14) return asked;
  throw new InputFault(
    { file: 'command line', place: '--rota' },
    `a rota of ${asked} days cannot be made`,
    'ask for 1 to 14 days, none of them after day 99',
  );
};

/** The numbered holes whose green is known: a practice green is not part of a rota. */
const rotaHoles = (course: Course, only: string | undefined): Hole[] => {
  const holes = course.holes.filter(
    (hole) => (hole.green ?? hole.outline ?? null) !== null && /^\d+$/.test(hole.id),
  );
  if (only === undefined && holes.length > 0) return holes;
  throw new InputFault(
    only === undefined ? { file: course.file, place: 'holes' } : { file: 'command line' },
    only === undefined
      ? 'no numbered hole has a green in the map'
      : 'a rota is made for the whole course',
    only === undefined ? 'give at least one' : 'leave out the hole',
  );
};

/** A rota to be made. */
interface RotaTask {
  readonly args: LocateArguments;
  readonly course: Course;
  readonly holes: readonly Hole[];
  readonly days: readonly DayLocation[];
  /** The first of its days. */
  readonly first: number;
  readonly count: number;
  readonly guidance: Guidance;
}

const chooseAll = async ({
  args,
  course,
  holes,
  days,
  first,
  count,
  guidance,
}: RotaTask): Promise<RotaHole[]> => {
  const surveyed = holes.filter((hole) => hole.green !== null);
  const found = await courseSurfaces(course, surveyed, args.out, {
    units: args.units,
    onProgress: showProgress,
  });
  for (const [h, { worth }] of found.entries()) sayWorth(`green of hole ${surveyed[h].id}`, worth);
  // A survey that is fit for the outline only tells of the ground no more than none.
  const grounds = new Map(
    surveyed.flatMap((hole, h) =>
      found[h].worth.worth === 'outline' ? [] : [[hole.id, found[h]] as const],
    ),
  );
  const all = holes.map((hole, h) => {
    showProgress(`places on green ${hole.id}, ${hole.name}`, h + 1, holes.length);
    const stimp = speedArgument(args.speed, hole.green?.stimp ?? course.stimp);
    const earlier = earlierOn(hole, days, first);
    const ground = grounds.get(hole.id);
    const candidates =
      ground === undefined
        ? candidatesByOutline(outlineInFrame(hole, course.file), guidance, earlier)
        : candidatesOn(
            siteFor(ground.surface, stimp, guidance, crossingBare(ground.worth.bare)),
            earlier,
          );
    return { places: rotaPlaces(hole.id, candidates, count, guidance), earlier, candidates };
  });
  const small = all.findIndex(({ places }) => places.apart.length + places.forced.length < count);
  if (small >= 0) {
    throw new InputFault(
      { file: course.file, place: `hole ${holes[small].id}` },
      `the green has fewer than ${count} places of whole paces`,
      'ask for fewer days',
    );
  }
  const rota = spreadRota(
    all.map(({ places }) => places),
    count,
    guidance.apart,
  );
  return holes.map((hole, h): RotaHole => {
    const { places, earlier, candidates } = all[h];
    return {
      hole,
      worth: grounds.get(hole.id)?.worth ?? null,
      places,
      refusals: Object.fromEntries(
        RULES.map((rule) => [rule, candidates.filter((one) => isRefused(one, rule)).length]),
      ),
      days: rota[h].map((candidate, d) => {
        const others = rota[h].flatMap((other, e): EarlierLocation[] =>
          e === d ? [] : [{ at: other.at, name: `the hole of day ${first + e}` }],
        );
        return {
          candidate,
          assessment: besideOthers(candidate.assessment, guidance, [...earlier, ...others]),
        };
      }),
    };
  });
};

/** Why a green cannot keep the guidance on all days; empty when it can. */
const complaint = (
  { hole, places, refusals, days }: RotaHole,
  first: number,
  guidance: Guidance,
  units: UnitSystem,
): string[] => {
  if (days.every(({ assessment }) => assessment.kept)) return [];
  const refused = RULES.filter((rule) => refusals[rule] > 0)
    .map((rule) => `${rule} ${refusals[rule]}`)
    .join(', ');
  const room =
    places.kept === 0
      ? 'none keeps the guidance'
      : `${places.kept} keep it${places.kept > places.apart.length ? `, of which ${places.certain ? '' : 'as far as was found '}${places.apart.length} can lie ${Number(metresToPaces(guidance.apart).toFixed(1))} paces apart` : ''}`;
  return [
    `hole ${hole.id}, ${hole.name}: of ${places.looked} places ${room} (refused by ${refused || 'none'})`,
    ...days.flatMap(({ candidate, assessment }, d) =>
      assessment.kept
        ? []
        : [
            `    day ${first + d}, ${placeWords(candidate)}: ${assessmentWords(assessment, guidance.around, units, 'refusing')}`,
          ],
    ),
  ];
};

const placeWords = (candidate: LocationCandidate): string =>
  locationWords({ name: '', ...candidate });

const textOf = (
  chosen: readonly RotaHole[],
  first: number,
  count: number,
  guidance: Guidance,
  units: UnitSystem,
): string => {
  const head = ['', '', ...Array.from({ length: count }, (_, d) => `day ${first + d}`)];
  const rows = chosen.map(({ hole, days }) => [
    hole.id,
    hole.name,
    ...days.map(
      ({ candidate, assessment }) => `${placeWords(candidate)}${assessment.kept ? '' : ' *'}`,
    ),
  ]);
  const balances = balanceByDay(
    chosen.map(({ days }) => days.map(({ candidate }) => candidate)),
    count,
  );
  const parts = (['front', 'middle', 'back', 'left', 'right'] as const).map((part) => [
    '',
    part,
    ...balances.map((balance) => `${balance[part]}`),
  ]);
  const table = [head, ...rows, [''], ...parts];
  const widths = head.map((_, i) => Math.max(...table.map((row) => row[i]?.length ?? 0)));
  const complaints = chosen.flatMap((one) => complaint(one, first, guidance, units));
  const bare = chosen.filter((one) => one.worth === null).map((one) => one.hole.id);
  return [
    ...table.map((row) =>
      row
        .map((cell, i) => (i === 0 ? cell.padStart(widths[i]) : cell.padEnd(widths[i])))
        .join('  ')
        .trimEnd(),
    ),
    '',
    ...(complaints.length === 0
      ? [
          `The guidance${bare.length === 0 ? '' : ', as far as the surveys tell,'} is kept on all ${chosen.length} greens.`,
        ]
      : ['* The guidance cannot be kept:', ...complaints]),
    ...(bare.length === 0
      ? []
      : [`No survey tells of their ground, judged by their distances alone: ${bare.join(', ')}.`]),
    ADVICE,
  ].join('\n');
};

/** Chooses locations for several days on every green of a course. */
export const locateRota = async (
  args: LocateArguments,
  course: Course,
  days: readonly DayLocation[],
): Promise<void> => {
  const guidance = guidanceOf(args, args.units);
  const first = dayChosen(args.day, days);
  const count = countOf(args.rota ?? 0, first);
  const holes = rotaHoles(course, args.hole);
  if (args.write !== undefined && existsSync(args.write)) {
    throw new InputFault(
      { file: args.write },
      'the file exists already',
      'name a new one: nothing of yours is overwritten',
    );
  }
  const chosen = await chooseAll({ args, course, holes, days, first, count, guidance });
  if (args.write !== undefined) {
    const entries = Array.from({ length: count }, (_, d) =>
      chosen.map(({ hole, days: places }) => {
        const { on, in: paces, side } = places[d].candidate;
        return { hole: hole.id, day: first + d, on, in: paces, side };
      }),
    ).flat();
    writeBeside(args.write, writeDayFile(entries));
  }
  if (args.json) {
    const balances = balanceByDay(
      chosen.map((one) => one.days.map(({ candidate }) => candidate)),
      count,
    );
    printJson({
      first_day: first,
      days: count,
      guidance_kept_on_all: chosen.every((one) => one.days.every((d) => d.assessment.kept)),
      balance: balances.map((balance, d) => ({ day: first + d, ...balance })),
      holes: chosen.map((one) => ({
        hole: one.hole.id,
        name: one.hole.name,
        surveyed: one.worth !== null,
        worth: one.worth === null ? null : worthJson(one.worth),
        places: one.places.looked,
        places_that_keep_guidance: one.places.kept,
        cannot_keep: complaint(one, first, guidance, args.units),
        locations: one.days.map(({ candidate, assessment }, d) => ({
          day: first + d,
          on: candidate.on,
          in: candidate.in,
          side: candidate.side,
          area: zoneOf(candidate),
          ...assessmentJson(assessment),
        })),
      })),
      advice: ADVICE,
    });
  } else {
    const isAnySurveyed = chosen.some((one) => one.worth !== null);
    const speed = isAnySurveyed ? ` at speed ${speedWords(args, course)}` : '';
    printText(
      `A rota of ${count} ${count === 1 ? 'day' : 'days'} on ${chosen.length} greens${speed}.\n${textOf(chosen, first, count, guidance, args.units)}`,
    );
  }
  if (args.write !== undefined) say(`${args.write}  the rota, for \`runnel holes --locations\``);
};

const speedWords = (args: LocateArguments, course: Course): string => {
  const stimp = speedArgument(args.speed, course.stimp);
  return stimpWords(stimp, args.units);
};
