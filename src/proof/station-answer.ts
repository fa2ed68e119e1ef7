import { stationText } from '../book/station-figures.js';
import { type AskedStation, stationOnGreen } from '../book/station-on-green.js';
import type { Point } from '../geometry.js';
import type { GreenContent } from '../page/book-content.js';
import { composeRoundPage, composeStationPage } from '../page/putts/station-page.js';
import type { Fonts } from '../print/fonts.js';
import { ROUND_TEES } from '../putt/walk-round.js';
import type { Surface } from '../surface/surface.js';
import { pacesToMetres, type UnitSystem } from '../units.js';
import type { Proof, ProofState } from './proof-book.js';
import { leaf, plainDocument } from './proof-documents.js';

/** A station about the hole as it stands, ready to be shown; places in the frame of the green, metres. */
export interface StationAnswer {
  /** What `runnel station` says, a line each. */
  readonly rows: readonly string[];
  /** One sentence for a screen reader, and for what is wrong. */
  readonly said: string;
  readonly tees: readonly Point[];
  /** The one marker, where it serves. */
  readonly marker: Point | null;
}

const askedOf = (
  { stimp, past, locations }: GreenContent,
  hole: Point,
  paces: number,
  round: number,
): AskedStation => ({
  name: locations.find(({ at }) => Math.hypot(at[0] - hole[0], at[1] - hole[1]) < 1e-3)?.name ?? '',
  hole,
  settings: { stimp, past },
  step: pacesToMetres(paces),
  round,
});

/** The station that `runnel station` tells, of the same surface. */
export const answerStation = (
  surface: Surface,
  green: GreenContent,
  hole: Point,
  paces: number,
  units: UnitSystem,
): StationAnswer => {
  const found = stationOnGreen(surface, green, askedOf(green, hole, paces, 0));
  if ('refused' in found) {
    const said = `${found.refused[0].toUpperCase()}${found.refused.slice(1)}: ${found.cure}.`;
    return { rows: [], said, tees: [], marker: null };
  }
  const rows = stationText(found, units).split('\n');
  const { station } = found;
  const marker = station.marker?.verdict === 'serves' ? station.marker.best.at : null;
  return {
    rows,
    said: rows.find((row) => row.startsWith('marker'))?.replace(/^marker +/, '') ?? '',
    tees: station.tees.map(({ tee }) => tee),
    marker,
  };
};

/** The pages of the station and of a walk round its hole; null where there is no such green, layout or station. */
export const stationDocument = (
  proof: Proof,
  fonts: Fonts,
  state: ProofState,
  asked: { readonly holeId: string; readonly hole: Point; readonly paces: number },
): string | null => {
  const { source } = proof;
  const { layout, book, measure } = source;
  const green = proof.greenOf(state, asked.holeId);
  if (green === null || layout.pages.station === undefined) return null;
  const [, round] = ROUND_TEES;
  const surface = source.surfaceOf(asked.holeId);
  const found = stationOnGreen(surface, green, askedOf(green, asked.hole, asked.paces, round));
  if ('refused' in found) return null;
  const context = {
    layout,
    measure,
    book: { ...book, stimp: green.stimp },
    green,
    side: 'right',
    label: green.holeId,
    location: found.location,
  } as const;
  const pages = [
    composeStationPage({ ...context, station: found.station }),
    ...(found.round === null ? [] : [composeRoundPage({ ...context, round: found.round })]),
  ];
  return plainDocument(
    `${book.title}, ${pages[0].title}`,
    '/book.css',
    `/?hole=${encodeURIComponent(asked.holeId)}`,
    pages.map((page) => leaf(page, 'station', layout, fonts)),
  );
};
