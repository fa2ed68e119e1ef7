import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { surveyByHand } from '../../src/course/survey-by-hand.js';
import type { Point } from '../../src/geometry.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import { foreignBinaries } from '../survey/foreign-binaries.js';
import { foreignBinaryVariants } from '../survey/foreign-binary-variants.js';
import { foreignManners } from '../survey/foreign-manners.js';
import { type Foreign, foreignTexts } from '../survey/foreign-texts.js';
import { foreignVariants } from '../survey/foreign-variants.js';
import { writeLas, writeLaz } from '../survey/las-writer.js';
import { writeLayeredLaz } from '../survey/laz14-writer.js';
import type { Damage } from './chance.js';
import { damagedBinary, damagedGzip, damagedText } from './damage.js';
import { WrongRead } from './judge.js';
import type { Kind, Seed } from './kinds.js';
import { runProgram } from './run-program.js';

const RECORDED = new URL('../survey/recorded/', import.meta.url);
const recorded = (name: string): Seed => ({ name, bytes: readFileSync(new URL(name, RECORDED)) });
const seedOf = ({ name, bytes, options }: Foreign): Seed => ({
  name,
  bytes: Buffer.from(bytes),
  ...(options === undefined ? {} : { options: options as NonNullable<Seed['options']> }),
});

/** Every so many cases go through the whole command, which fits and judges, too. */
const WHOLE_EVERY = 25;

const isSound = (survey: Awaited<ReturnType<typeof readSurvey>>): boolean => {
  const within = (values: Float64Array, most: number): boolean =>
    values.every((v) => Math.abs(v) <= most);
  const { x, y, z } = survey;
  return (
    x.length > 0 &&
    y.length === x.length &&
    z.length === x.length &&
    within(x, 1e8) &&
    within(y, 1e8) &&
    within(z, 12_000)
  );
};

const read: Kind['read'] = async (bytes, { options, name }, { folder, number }) => {
  if (number % WHOLE_EVERY === 0) {
    const file = join(folder, 'survey.dat');
    writeFileSync(file, bytes);
    await runProgram(['survey', file, '--unit', 'm']);
    return;
  }
  const survey = await readSurvey(new Uint8Array(bytes), { source: name, ...options });
  if (!isSound(survey))
    throw new WrongRead('positions or heights that are no numbers of the Earth');
};

const surveyKind = (name: string, damage: Damage, seeds: () => readonly Seed[]): Kind => ({
  name,
  damage,
  seeds,
  read,
});

const named = (pattern: RegExp): readonly Seed[] =>
  [...foreignBinaries(), ...foreignBinaryVariants()]
    .filter((one) => pattern.test(one.name) && one.bytes.length > 0)
    .map(seedOf);

const cloud = Array.from({ length: 400 }, (_, k) => ({
  x: 1000 + (k % 20) * 0.5,
  y: 2000 + Math.floor(k / 20) * 0.5,
  z: 10 + Math.sin(k / 9) / 5,
  group: k % 7 === 0 ? 1 : 2,
}));

const OUTLINE = Array.from({ length: 60 }, (_, i): Point => {
  const angle = (2 * Math.PI * i) / 60;
  return [13 * Math.cos(angle), 13 + 13 * Math.sin(angle)];
});
const BY_HAND = [
  `on,in,side,grade,clock\n${[2, 6, 10, 14, 18, 22].flatMap((on) => [`${on},1,left,2.1,6`, `${on},2.5,right,1.4,7.5`]).join('\n')}\n`,
  `# mine\nside;on;in;height cm\n${[4, 8, 12, 16, 20, 24].map((on) => `left;${on}½;1,5;${on}`).join('\n')}\n`,
];

const PRJ =
  'PROJCS["UTM",GEOGCS["G",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-3.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
const TFW = '2.0\n0.0\n0.0\n-2.0\n512341.0\n5712305.0\n';
const AUX = `<PAMDataset><SRS dataAxisToSRSAxisMapping="1,2">${PRJ.replaceAll('"', '&quot;')}</SRS></PAMDataset>`;
const WITHOUT_TIE = 'raster not tied';

/** Damaged files beside a whole one: coordinate system, world file, metadata. */
const besideKind: Kind = {
  name: 'beside',
  damage: damagedText,
  seeds: () => [
    { name: 'prj', bytes: Buffer.from(PRJ), options: { beside: 'shapefile of type 11' } },
    { name: 'tfw', bytes: Buffer.from(TFW), options: { beside: WITHOUT_TIE } },
    { name: 'aux.xml', bytes: Buffer.from(AUX), options: { beside: WITHOUT_TIE } },
  ],
  read: async (bytes, { name, options }) => {
    const main = named(/./).find((one) => one.name === options?.beside)!;
    const beside: Record<string, string> = { tfw: TFW, [name]: bytes.toString('utf8') };
    const survey = await readSurvey(new Uint8Array(main.bytes), { source: 'main', beside });
    if (!isSound(survey)) throw new WrongRead('positions that are no numbers of the Earth');
  },
};

/** Readers of surveys, by format. */
export const SURVEY_KINDS: readonly Kind[] = [
  surveyKind('points', damagedText, () =>
    [...foreignTexts(), ...foreignVariants(), ...foreignManners()].map(seedOf),
  ),
  {
    name: 'by-hand',
    damage: damagedText,
    seeds: () => BY_HAND.map((text, k) => ({ name: `by hand ${k}`, bytes: Buffer.from(text) })),
    read: async (bytes) => {
      const frame = { origin: [0, 0], forward: [0, 1] } as const;
      const survey = surveyByHand(bytes.toString('utf8'), 'hand.csv', null, OUTLINE, frame);
      if (!isSound(survey)) throw new WrongRead('heights that are no numbers');
    },
  },
  surveyKind('ascii-grid', damagedText, () => [recorded('grid.asc'), ...named(/^grid/)]),
  surveyKind('geotiff', damagedBinary, () => [
    ...['strips-float32', 'tiles-deflate', 'strips-lzw', 'strips-zstd', 'strips-lerc'].map((one) =>
      recorded(`${one}.tif`),
    ),
    recorded('bigtiff-packbits.tif'),
    ...named(/^raster/),
  ]),
  surveyKind('las', damagedBinary, () => [
    { name: 'cloud', bytes: Buffer.from(writeLas(cloud, 32630)) },
    recorded('shore.las'),
    ...named(/^cloud/),
  ]),
  surveyKind('laz', damagedBinary, () => [
    { name: 'packed', bytes: Buffer.from(writeLaz(cloud, 150)) },
    { name: 'packed, chunks of any size', bytes: Buffer.from(writeLaz(cloud, 150, true)) },
    ...([6, 7, 8] as const).map((format) => ({
      name: `in layers, format ${format}`,
      bytes: Buffer.from(
        writeLayeredLaz({ format, points: cloud, chunkSize: 150, varied: format === 7 }),
      ),
    })),
  ]),
  surveyKind('landxml', damagedText, () => [recorded('surface.xml'), ...named(/surface/)]),
  surveyKind('dxf', damagedText, () => named(/^drawing(?!.*gzip)/)),
  surveyKind('xlsx', damagedBinary, () => named(/workbook/)),
  surveyKind('shapefile', damagedBinary, () => named(/^shapefile/)),
  surveyKind('geojson', damagedText, () => named(/^features/)),
  surveyKind('ply', damagedBinary, () => named(/^scan/)),
  surveyKind('packed', damagedGzip, () => named(/gzip|archive/)),
  besideKind,
];
