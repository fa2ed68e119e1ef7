import type { GreenWorth } from '../appraisal/worth.js';
import { courseSurfaces } from '../book/course-surfaces.js';
import { stimpWords } from '../book/ground-words.js';
import { crossingBare } from '../book/surveyed-only.js';
import type { Course, Hole } from '../course/course.js';
import { pointOfLocation } from '../course/frame.js';
import { surveyedGreen } from '../course/named-hole.js';
import {
  assessByOutline,
  assessLocation,
  restsOnUnknown,
  type Site,
  siteFor,
} from '../event/assess-location.js';
import { type DayLocation, outlineInFrame } from '../event/day-locations.js';
import { type Guidance, RULES } from '../event/guidance.js';
import {
  candidatesByOutline,
  candidatesOn,
  type LocationArea,
  type LocationCandidate,
  placesOf,
  rankAreas,
} from '../event/location-areas.js';
import { puttFromAbove } from '../event/putt-from-above.js';
import type { Ring } from '../geometry.js';
import { locationWords } from '../page/kit/location-words.js';
import type { PuttSolution } from '../putt/putt.js';
import { aimReading, lengthReading, paceReading } from '../putt/rounding.js';
import { METRES_PER_PACE, type UnitSystem } from '../units.js';
import { guidanceOf, speedArgument } from './guidance-options.js';
import { ADVICE, assessmentJson, assessmentWords } from './guidance-words.js';
import { pacesArgument } from './lengths.js';
import { dayChosen, earlierOn, type LocateArguments } from './locate-arguments.js';
import { printJson, printText, showProgress } from './output.js';
import { sayWorth, worthJson } from './worth-words.js';

const NOT_SURVEYED =
  'the green is not surveyed: nothing is told of its grade, nor where a ball stops';
const BARE_PLACE =
  'the ground there was not surveyed: nothing is told of its grade, nor where a ball stops';
const OUTLINE_ONLY =
  'the survey is fit for the outline only: nothing is told of its grade, nor where a ball stops';
const NOTHING = 'no pace holds a putt from straight above';

const puttWords = (putt: PuttSolution | 'unknown' | null, units: UnitSystem): string => {
  if (putt === null) return NOTHING;
  if (putt === 'unknown') return 'from straight above: over ground that was not surveyed';
  const aim = aimReading(putt.aimOffset, units);
  const line = aim.side === 'straight' ? 'straight' : `aim ${aim.figure} ${aim.side}`;
  return `from ${lengthReading(putt.length, units)} above: ${line}, pace ${paceReading(putt.pace, units)}`;
};

const placeWords = (candidate: Pick<LocationCandidate, 'on' | 'in' | 'side'>): string =>
  locationWords({ name: '', ...candidate });

/** By what areas are judged; no site where the green has no survey. */
interface Judging {
  readonly guidance: Guidance;
  readonly site: Site | null;
}

const areaWords = (
  area: LocationArea,
  { guidance, site }: Judging,
  units: UnitSystem,
): string[] => {
  const { best, zone } = area;
  const { around } = guidance;
  const size =
    units === 'metric'
      ? `${Math.round(area.usable)} m²`
      : `${Math.round(area.usable / METRES_PER_PACE ** 2)} square paces`;
  if (best.assessment.kept) {
    return [
      `${zone}: ${size} of ground; best ${placeWords(best)}`,
      `    ${assessmentWords(best.assessment, around, units, 'all')}`,
      ...(site === null ? [] : [`    ${puttWords(puttFromAbove(site, best.at), units)}`]),
    ];
  }
  const by = RULES.filter((rule) => area.refusedBy[rule] > 0)
    .map((rule) => `${rule} ${area.refusedBy[rule]}`)
    .join(', ');
  return [
    `${zone}: refused; nearest to the guidance is ${placeWords(best)}`,
    `    ${assessmentWords(best.assessment, around, units, 'refusing')}`,
    `    of ${area.places} places refused by ${by}`,
  ];
};

const areaJson = (area: LocationArea, site: Site | null): object => {
  const { best } = area;
  const found = best.assessment.kept && site !== null ? puttFromAbove(site, best.at) : null;
  const putt = found === 'unknown' ? null : found;
  return {
    area: area.zone,
    refused: !best.assessment.kept,
    usable_m2: Number(area.usable.toFixed(2)),
    places: area.places,
    refused_by: area.refusedBy,
    best: {
      on: best.on,
      in: best.in,
      side: best.side,
      at_m: best.at.map((v) => Number(v.toFixed(4))),
      ...assessmentJson(best.assessment),
      putt_from_above:
        putt === null
          ? null
          : {
              length_m: putt.length,
              aim_m: putt.aimOffset,
              pace_m: putt.pace,
              would_roll_past_m: putt.wouldRollPast,
            },
    },
  };
};

/** The place that `--at` names, on the green. */
const placedOn = (outline: Ring, hole: Hole, text: string) => {
  const place = pacesArgument('--at', text);
  const at = pointOfLocation(
    outline,
    { name: `of hole ${hole.id}`, ...place },
    { file: 'command line', place: '--at' },
  );
  return { place, at };
};

interface SurveyedHole {
  readonly args: LocateArguments;
  readonly site: Site;
  readonly hole: Hole;
  readonly worth: GreenWorth;
}

const judgeOne = (
  { args, site, hole, worth }: SurveyedHole,
  { place, at }: ReturnType<typeof placedOn>,
  earlier: EarlierList,
): void => {
  const assessment = assessLocation(site, at, earlier);
  if (args.json) {
    const judged = { worth: worthJson(worth), ...assessmentJson(assessment) };
    printJson({ hole: hole.id, ...place, ...judged, advice: ADVICE });
    return;
  }
  const { around } = site.guidance;
  printText(
    [
      `hole ${hole.id}, ${placeWords(place)}: ${assessment.kept ? 'keeps the guidance' : `refused: ${assessmentWords(assessment, around, args.units, 'refusing')}`}`,
      `    ${assessmentWords(assessment, around, args.units, 'all')}`,
      `    ${puttWords(puttFromAbove(site, at), args.units)}`,
      ADVICE,
    ].join('\n'),
  );
};

/** One place on ground without a survey: its distances from the edge and from earlier holes, and nothing of the ground. */
const judgeByOutline = (
  args: LocateArguments,
  course: Course,
  hole: Hole,
  earlier: EarlierList,
  why = NOT_SURVEYED,
): void => {
  const guidance = guidanceOf(args, args.units);
  const outline = outlineInFrame(hole, course.file);
  const { place, at } = placedOn(outline, hole, args.at ?? '');
  const {
    findings: { edge, turf },
    kept,
  } = assessByOutline(outline, at, guidance, earlier);
  if (args.json) {
    const edgeJson = { value: edge.value, limit: edge.limit, kept: edge.kept };
    const judged = {
      surveyed: false,
      keeps_guidance: kept,
      edge_m: edgeJson,
      turf_kept: turf.kept,
    };
    printJson({ hole: hole.id, ...place, ...judged, advice: ADVICE });
    return;
  }
  const paces = (metres: number): string => (metres / METRES_PER_PACE).toFixed(1);
  printText(
    [
      `hole ${hole.id}, ${placeWords(place)}: ${kept ? 'far enough' : 'refused: too near'}`,
      `    ${paces(edge.value)} paces from the edge (${paces(edge.limit)} asked)${turf.kept ? '' : `; ${paces(turf.value)} paces from an earlier hole (${paces(turf.limit)} asked)`}`,
      `    ${why}`,
      ADVICE,
    ].join('\n'),
  );
};

/** The areas of a green whose ground no survey tells, by their distances alone. */
const areasByOutline = (
  args: LocateArguments,
  course: Course,
  hole: Hole,
  { day, earlier }: { readonly day: number; readonly earlier: EarlierList },
  why = NOT_SURVEYED,
): void => {
  const guidance = guidanceOf(args, args.units);
  const outline = outlineInFrame(hole, course.file);
  const areas = rankAreas(candidatesByOutline(outline, guidance, earlier));
  if (args.json) {
    printJson({
      hole: hole.id,
      name: hole.name,
      day,
      surveyed: false,
      areas: areas.map((area) => areaJson(area, null)),
      advice: ADVICE,
    });
    return;
  }
  printText(
    [
      `hole ${hole.id}, ${hole.name}: areas for day ${day} by their distances alone${besideWords(earlier)}, best first`,
      ...areas.flatMap((area) => areaWords(area, { guidance, site: null }, args.units)),
      why,
      ADVICE,
    ].join('\n'),
  );
};

const besideWords = (earlier: EarlierList): string =>
  earlier.length === 0
    ? ''
    : `, away from ${earlier.length} earlier ${earlier.length === 1 ? 'hole' : 'holes'}`;

type EarlierList = ReturnType<typeof earlierOn>;

/** Ranks the areas of one green, or judges one place on it. */
export const locateAreas = async (
  args: LocateArguments,
  course: Course,
  hole: Hole,
  days: readonly DayLocation[],
): Promise<void> => {
  const guidance = guidanceOf(args, args.units);
  const day = dayChosen(args.day, days);
  const earlier = earlierOn(hole, days, day);
  if (hole.green === null && args.at !== undefined) {
    judgeByOutline(args, course, hole, earlier);
    return;
  }
  if (hole.green === null && (hole.outline ?? null) !== null) {
    areasByOutline(args, course, hole, { day, earlier });
    return;
  }
  const green = surveyedGreen(course, hole);
  const [{ surface, worth }] = await courseSurfaces(course, [hole], args.out, {
    units: args.units,
    onProgress: showProgress,
  });
  // What is wrong on the command line is all that is said.
  const stimp = speedArgument(args.speed, green.stimp);
  const asked = args.at === undefined ? null : placedOn(surface.outline, hole, args.at);
  sayWorth(`green of hole ${hole.id}`, worth);
  if (worth.worth === 'outline') {
    if (asked !== null) judgeByOutline(args, course, hole, earlier, OUTLINE_ONLY);
    else areasByOutline(args, course, hole, { day, earlier }, OUTLINE_ONLY);
    return;
  }
  const site = siteFor(surface, stimp, guidance, crossingBare(worth.bare));
  if (asked !== null) {
    if (restsOnUnknown(site, asked.at)) judgeByOutline(args, course, hole, earlier, BARE_PLACE);
    else judgeOne({ args, site, hole, worth }, asked, earlier);
    return;
  }
  const candidates = candidatesOn(site, earlier);
  const areas = rankAreas(candidates);
  const leftOut = placesOf(surface.outline) - candidates.length;
  if (args.json) {
    printJson({
      hole: hole.id,
      name: hole.name,
      day,
      stimp_m: stimp,
      worth: worthJson(worth),
      places_left_out_not_surveyed: leftOut,
      areas: areas.map((area) => areaJson(area, site)),
      advice: ADVICE,
    });
    return;
  }
  const speed = stimpWords(stimp, args.units);
  printText(
    [
      `hole ${hole.id}, ${hole.name}: areas for day ${day} at speed ${speed}${besideWords(earlier)}, best first`,
      ...areas.flatMap((area) => areaWords(area, { guidance, site }, args.units)),
      ...(leftOut === 0
        ? []
        : [`left out: ${leftOut} places that rest on ground that was not surveyed`]),
      ADVICE,
    ].join('\n'),
  );
};
