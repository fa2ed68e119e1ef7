import { describe, expect, it } from 'vitest';
import { readSurvey } from '../../src/survey/read-survey.js';
import { writeLas14 } from './las14-writer.js';

const US_FOOT = 1200 / 3937;

/** A made-up slope; of five points one is withheld, one is of another class. */
const points = Array.from({ length: 40 }, (_, k) => ({
  x: 600_000 + (k % 8) * 1.25,
  y: 250_000 + Math.floor(k / 8) * 1.5,
  z: 100 + 0.03 * (k % 8),
  group: k % 5 === 1 ? 5 : 2,
  withheld: k % 5 === 3,
}));
const kept = points.filter((p) => p.group === 2 && !p.withheld);

const ELLIPSOID = 'ELLIPSOID["GRS 1980",6378137,298.257222101,LENGTHUNIT["metre",1]]';
/** WKT 2 (ISO 19162:2019), its parts after EPSG 32617 and a height above the geoid. */
const wkt2 = (across: string, up: string): string =>
  `COMPOUNDCRS["made up",PROJCRS["plane",BASEGEOGCRS["NAD83",DATUM["North American Datum 1983",${ELLIPSOID}]],CONVERSION["own",METHOD["Transverse Mercator",ID["EPSG",9807]],PARAMETER["Latitude of natural origin",0,ANGLEUNIT["degree",0.0174532925199433]],PARAMETER["Longitude of natural origin",-81,ANGLEUNIT["degree",0.0174532925199433]],PARAMETER["Scale factor at natural origin",0.9996,SCALEUNIT["unity",1]],PARAMETER["False easting",500000,LENGTHUNIT["metre",1]],PARAMETER["False northing",0,LENGTHUNIT["metre",1]]],CS[Cartesian,2],AXIS["(E)",east],AXIS["(N)",north],LENGTHUNIT[${across}]],VERTCRS["height",VDATUM["North American Vertical Datum 1988"],CS[vertical,1],AXIS["up",up,LENGTHUNIT[${up}]]]]`;
/** The older form (OGC 01-009) of the same. */
const wkt1 = (across: string, up: string): string =>
  `COMPD_CS["made up",PROJCS["plane",GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",-81],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT[${across}]],VERT_CS["height",VERT_DATUM["North American Vertical Datum 1988",2005],UNIT[${up}],AXIS["Up",UP]]]`;

const METRE = '"metre",1';
const FOOT = '"US survey foot",0.304800609601219';

describe('LAS 1.4', () => {
  it.each([6, 7, 8])('point format %d: class, withheld flag and place', async (format) => {
    const survey = await readSurvey(writeLas14(points, { format }), { source: 'cloud.las' });
    expect(survey.how).toContain(`LAS 1.4, point format ${format}, ${kept.length} of 40 points`);
    expect(Array.from(survey.x)).toEqual(kept.map((p) => expect.closeTo(p.x, 3)));
    expect(Array.from(survey.z)).toEqual(kept.map((p) => expect.closeTo(p.z, 3)));
  });

  it.each([
    ['WKT 2 before the points', wkt2(METRE, FOOT), false],
    ['WKT 2 behind the points', wkt2(METRE, FOOT), true],
    ['WKT 1 before the points', wkt1(METRE, FOOT), false],
    ['WKT 1 behind the points', wkt1(METRE, FOOT), true],
  ])('heights in feet by %s', async (_, wkt, late) => {
    const bytes = writeLas14(points, { format: 6, wkt, late });
    const survey = await readSurvey(bytes, { source: 'cloud.las' });
    expect(survey.z[0]).toBeCloseTo(100 * US_FOOT, 6);
    expect(survey.x[1] - survey.x[0]).toBeCloseTo(kept[1].x - kept[0].x, 6);
    expect(survey.how).toContain('heights US survey feet (the file states it)');
  });

  it.each([wkt2(FOOT, METRE), wkt1(FOOT, METRE)])(
    'positions in feet, heights in metres: %#',
    async (wkt) => {
      const survey = await readSurvey(writeLas14(points, { format: 6, wkt, late: true }), {
        source: 'cloud.las',
      });
      expect(survey.z[0]).toBeCloseTo(100, 6);
      expect(survey.x[1] - survey.x[0]).toBeCloseTo((kept[1].x - kept[0].x) * US_FOOT, 6);
    },
  );
});
