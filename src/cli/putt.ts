import type { GreenWorth } from '../appraisal/worth.js';
import type { AskedLanguage } from '../book/book-language.js';
import { isBare, puttOverBare } from '../book/surveyed-only.js';
import { writeBeside } from '../book/write-beside.js';
import { InputFault } from '../fault.js';
import type { Point } from '../geometry.js';
import type { FallSpot } from '../page/putts/putt-figure.js';
import { HOLE_RADIUS } from '../putt/capture.js';
import type { PuttSettings, PuttSolution } from '../putt/putt.js';
import { aimReading, layingReading, lengthReading, paceReading } from '../putt/rounding.js';
import { solvePutt } from '../putt/solve.js';
import { spreadOfPutt } from '../putt/spread.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';
import type { Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';
import { firstUnits, metresToFeet, radiansToDegrees, type UnitSystem } from '../units.js';
import { checkPace } from './check-pace.js';
import { type UnitsOpen, withUnits } from './course-units.js';
import { lengthArgument, pointArgument, stimpArgument } from './lengths.js';
import { printJson, printText, say, showProgress } from './output.js';
import type { ReadingArguments } from './survey-arguments.js';
import { requireWorth, sayWorth, worthJson } from './worth-words.js';

interface PuttArguments extends UnitsOpen<ReadingArguments> {
  readonly survey: string | undefined;
  readonly course: string | undefined;
  readonly green: string | undefined;
  readonly out: string;
  readonly from: string;
  readonly hole: string;
  readonly stimp: string;
  readonly past: string;
  readonly svg: string | undefined;
  readonly sigma: string | undefined;
  /** The course's, where it is left out. */
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

const PAST_UNIT = { imperial: 'in', metric: 'cm' } as const;

const settingsOf = (args: PuttArguments, units: UnitSystem): PuttSettings => {
  const settings = {
    stimp: stimpArgument('--stimp', args.stimp),
    past: lengthArgument('--past', args.past, PAST_UNIT[units]),
  };
  checkPace(settings);
  return settings;
};

/** The fall of the ground at a few places beside the line of play. */
const fallsAlong = (surface: Surface, putt: PuttSolution): FallSpot[] => {
  const spots: FallSpot[] = [];
  const across = Math.min(1.2, 0.18 * putt.length);
  const ux = (putt.hole[0] - putt.ball[0]) / putt.length;
  const uy = (putt.hole[1] - putt.ball[1]) / putt.length;
  for (let i = 0; i < 5; i++) {
    const along = putt.length * (0.1 + 0.2 * i);
    for (const side of [-across, across]) {
      const at: Point = [
        putt.ball[0] + ux * along - uy * side,
        putt.ball[1] + uy * along + ux * side,
      ];
      const { toward: fall, grade } = fallAt(surface, at);
      if (grade > 1e-4) spots.push({ at, toward: fall, grade });
    }
  }
  return spots;
};

const finite = (value: number | null): number | null =>
  value !== null && Number.isFinite(value) ? value : null;

interface Told {
  readonly putt: PuttSolution;
  readonly settings: PuttSettings;
  readonly aimSd: number | null;
  readonly paceSd: number | null;
  /** Whether a ball that misses rolls over ground that has points. */
  readonly isPastKnown: boolean;
  /** From the frame of the surface to the coordinates asked in. */
  readonly outward: (at: Point) => Point;
}

const jsonOf = ({ putt, settings, aimSd, paceSd, isPastKnown, outward }: Told): object => ({
  status: putt.status,
  launch_speed_mps: putt.launchSpeed,
  aim_angle_deg: radiansToDegrees(putt.aimAngle),
  aim_offset_m: finite(putt.aimOffset),
  pace_m: putt.pace,
  arrival_speed_mps: putt.arrivalSpeed,
  entry_clock: putt.entryClock,
  break_side: putt.breakSide,
  time_s: putt.time,
  length_m: putt.length,
  would_roll_past_m: isPastKnown ? putt.wouldRollPast : null,
  would_roll_past_surveyed: isPastKnown,
  aim_window_deg: putt.aimWindow.map(radiansToDegrees),
  speed_window_mps: putt.speedWindow,
  aim_sd_m: finite(aimSd),
  pace_sd_m: finite(paceSd),
  stimp_m: settings.stimp,
  past_m: settings.past,
  not_modelled: ['the first skid before the ball rolls', 'grain', 'firmness'],
  path: putt.path.map(outward),
});

const STATUS_WORDS: Readonly<Record<PuttSolution['status'], string>> = {
  holed: 'holed at this pace',
  short: 'short: no launch reaches the hole',
  'never-stops': 'no pace holds this putt; this is the slowest arrival there is',
  'leaves-green': 'the path leaves the surveyed ground',
};

/** Half of the 95 % interval of the aim, in words. */
const sureWords = (aimSd: number, units: UnitSystem): string => {
  const { figure, side } = aimReading(TWO_SIDED_95 * aimSd, units);
  return side === 'straight'
    ? `aim known to less than ${units === 'metric' ? '1 cm' : '1 in'} (95 %)`
    : `aim known to ${figure} either way (95 %)`;
};

/** How fast the ball comes to the hole. */
const arrivalWords = (speed: number, units: UnitSystem): string =>
  units === 'metric' ? `${speed.toFixed(2)} m/s` : `${metresToFeet(speed).toFixed(1)} ft/s`;

const textOf = ({ putt, aimSd, isPastKnown }: Told, units: UnitSystem): string => {
  const aim = aimReading(putt.aimOffset, units);
  const sure = finite(aimSd);
  const rows: (readonly [string, string])[] = [
    ['putt', `${lengthReading(putt.length, units)}, ${STATUS_WORDS[putt.status]}`],
    ['aim', aim.side === 'straight' ? 'straight' : `${aim.figure} ${aim.side} of the hole`],
    ['pace', `a level putt of ${paceReading(putt.pace, units)}`],
    ['breaks', putt.breakSide === 'straight' ? 'no' : `to the ${putt.breakSide}`],
    [
      'enters at',
      `${putt.entryClock.toFixed(1)} o'clock, ${arrivalWords(putt.arrivalSpeed, units)}`,
    ],
    [
      'rolls past',
      !isPastKnown
        ? 'onto ground without points if it misses'
        : putt.wouldRollPast === null
          ? 'does not stop on the surveyed ground'
          : `${layingReading(putt.wouldRollPast, units)} if it misses`,
    ],
    ...(sure === null ? [] : [['survey', sureWords(sure, units)] as const]),
  ];
  return rows.map(([name, value]) => `${name.padEnd(11)}${value}`).join('\n');
};

interface GroundOfPutt {
  readonly surface: Surface;
  readonly worth: GreenWorth;
  /** From the coordinates asked in to the frame of the surface, and back. */
  readonly inward: (at: Point) => Point;
  readonly outward: (at: Point) => Point;
  /** How its course wants things told; empty without one. */
  readonly telling: AskedLanguage;
}

/** The ground of a putt: a green of a course, or the part of a survey round the named points. */
const groundOf = async (
  args: PuttArguments,
  named: readonly { readonly option: string; readonly at: Point }[],
): Promise<GroundOfPutt> => {
  const { survey, course, green } = args;
  if (course !== undefined && green !== undefined && survey === undefined) {
    const { courseGreen } = await import('../book/course-green.js');
    const { surface, worth, toFrame, fromFrame, telling } = await courseGreen(
      course,
      green,
      args.out,
      named,
      {
        ...(args.units === undefined ? {} : { units: args.units }),
        outside: args.outside,
        onProgress: showProgress,
      },
    );
    requireWorth(green, worth, 'putt');
    return { surface, worth, inward: toFrame, outward: fromFrame, telling };
  }
  if (survey === undefined || course !== undefined || green !== undefined) {
    throw new InputFault(
      { file: 'command line' },
      'the ground of the putt is not named',
      'give --survey FILE, or --course COURSE and --green HOLE',
    );
  }
  const [{ surveyedGround }, { readingOf }] = await Promise.all([
    import('../book/surveyed-ground.js'),
    import('./survey-arguments.js'),
  ]);
  const units = firstUnits(args.units);
  const ground = await surveyedGround(
    survey,
    readingOf(withUnits<ReadingArguments>(args, null), null),
    named,
    units,
  );
  sayWorth(survey, ground.worth);
  const [ox, oy] = ground.origin;
  return {
    surface: ground.surface,
    worth: ground.worth,
    inward: ([x, y]) => [x - ox, y - oy],
    outward: ([x, y]) => [x + ox, y + oy],
    telling: {},
  };
};

/** The putt as a drawing, in the language of its course; what draws is loaded here only. */
const writeFigure = async (
  file: string,
  asked: UnitSystem | undefined,
  { surface, worth, telling }: GroundOfPutt,
  { putt, settings, aimSd }: Told,
): Promise<void> => {
  const [{ composePuttFigure }, { languageOf }, { DEFAULT_INKS }, print, { writeSvg }] =
    await Promise.all([
      import('../page/putts/putt-figure.js'),
      import('../book/book-language.js'),
      import('../layout/load-layout.js'),
      import('../print/fonts.js'),
      import('../print/svg.js'),
    ]);
  const fonts = print.openFonts();
  const { units, words, told } = languageOf(telling, {}, fonts, asked);
  for (const line of told) say(line);
  const page = composePuttFigure(
    {
      ...{ units, words, putt },
      ...settings,
      aimSd: finite(aimSd),
      falls: fallsAlong(surface, putt).filter(({ at }) => !isBare(worth.bare, at)),
    },
    print.measureWith(fonts),
  );
  writeBeside(file, writeSvg(page, DEFAULT_INKS, fonts));
};

export const runPutt = async (args: PuttArguments): Promise<void> => {
  // What a number without a unit means is the course's word, too.
  if (args.units !== undefined || args.course === undefined) {
    settingsOf(args, firstUnits(args.units));
  }
  const ballAt = pointArgument('--from', args.from);
  const holeAt = pointArgument('--hole', args.hole);
  if (Math.hypot(ballAt[0] - holeAt[0], ballAt[1] - holeAt[1]) <= HOLE_RADIUS) {
    throw new InputFault(
      { file: 'command line', place: '--from' },
      'the ball lies in the hole',
      'put it more than 54 mm from --hole',
    );
  }
  const ground = await groundOf(args, [
    { option: '--hole', at: holeAt },
    { option: '--from', at: ballAt },
  ]);
  const { surface, worth, inward, outward, telling } = ground;
  const units = firstUnits(args.units, telling.units);
  const settings = settingsOf(args, units);
  const putt = solvePutt(surface, inward(ballAt), inward(holeAt), settings);
  const over = puttOverBare(worth.bare, putt);
  if (over.way) {
    throw new InputFault(
      { file: 'command line', place: '--from' },
      'the way of this putt crosses ground without points',
      'no figure rests on it: survey that ground, or choose another putt',
    );
  }
  if (puttOverBare(worth.unsure, putt).way) {
    throw new InputFault(
      { file: 'command line', place: '--from' },
      'the way of this putt crosses the face of a tier that the survey does not tell',
      'no figure rests on it: survey the face more closely, or choose another putt',
    );
  }
  const spread = spreadOfPutt(surface, putt, settings);
  const told: Told = {
    putt,
    settings,
    outward,
    aimSd: spread?.aimSd ?? null,
    paceSd: spread?.paceSd ?? null,
    isPastKnown: !over.past,
  };
  if (args.svg !== undefined) await writeFigure(args.svg, args.units, ground, told);
  if (args.json) printJson({ ...jsonOf(told), worth: worthJson(worth) });
  else printText(textOf(told, units));
};
