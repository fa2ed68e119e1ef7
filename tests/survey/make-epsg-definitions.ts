/**
 * Writes src/survey/crs/epsg-definitions.json from the EPSG Geodetic Parameter Dataset, as Debian's proj-bin
 * and sqlite3 hand it out. Run when the registry's edition changes:
 *
 *     npx tsx tests/survey/make-epsg-definitions.ts /usr/share/proj/proj.db
 *
 * Kept: projected systems in force on the datums below, without those that follow from their codes (see
 * `utmDefinition`), those with southward or westward axes and those that need a grid of datum shifts.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import proj4 from 'proj4';
import { utmDefinition } from '../../src/survey/crs/definitions.js';

const database = process.argv[2];
const query = (sql: string): string[][] =>
  execFileSync('sqlite3', ['-separator', '|', database, sql], { encoding: 'utf8' })
    .trim()
    .split('\n')
    .map((row) => row.split('|'));

const DATUMS =
  `NAD83;NAD83(NSRS2007);NAD83(2011);NAD83(HARN);NAD83(CSRS);ETRS89;NZGD2000;GDA94;GDA2020;JGD2000;JGD2011;SIRGAS 2000;
MAGNA-SIRGAS;MAGNA-SIRGAS 2018;Korea 2000;RGF93 v1;RGF93 v2;RGF93 v2b;CGCS2000;TUREF;SWEREF99;SWEREF 99;BGS2005;GDM2000;
Mexico ITRF2008;Mexico ITRF92;POSGAR 2007;SIRGAS-Chile 2002;IRENET95;TM75;TM65;OSGB36;Amersfoort;BD72;
BD 72;Belge 1972;Belge Lambert 2008;ETRS89-BEL;CH1903;CH1903+;DHDN;MGI;MGI/Austria;Monte Mario;RDN2008;HD72;S-JTSK;S-JTSK/05;
Pulkovo 1942(58);LKS92;LKS94;EST97;Estonian 1997;ISN93;ISN2004;ISN2016;Israel 1993;Hong Kong 1980;SVY21;TWD97;
GGRS87;HTRS96;Slovenia 1996;KKJ;RT90;EUREF-FIN;PRS92;JAD2001;BDA2000;CR05;NGO 1948;PTRA08;ED50;KOC;KUDAMS;
QND95;Qatar 1974;WGS 84;Kertau (RSO);GDBD2009;RGRDC 2005;LGD2006;VN-2000;Hartebeesthoek94;Lisbon;Datum 73;
ETRS89-PRT;RGSPM06;Moldova;MOLDREF99;UCS-2000;SRGI2013;Dealul Piscului 1970;KGD2002;Korean 1985;ETRF2000-PL;Hong Kong 1980 Grid System;NAD83(PA11)`
    .replaceAll('\n', '')
    .split(';');

/** Datum shifts (EPSG operation codes) for national grids whose datum is not WGS 84's within a metre. */
const SHIFTS: Readonly<Record<string, number>> = {
  OSGB36: 1314,
  TM65: 1641,
  TM75: 1954,
  Amersfoort: 4833,
  BD72: 15929,
  CH1903: 1766,
  'CH1903+': 1676,
  DHDN: 1777,
  MGI: 1618,
  'Monte Mario': 1660,
  HD72: 1242,
  'S-JTSK': 5239,
  'Pulkovo 1942(58)': 15995,
  KKJ: 10099,
  RT90: 1680,
  'Israel 1993': 1073,
  'Hong Kong 1980': 1825,
  GGRS87: 1272,
  PRS92: 15708,
};

const shiftOf = (operation: number): string | null => {
  const text = execFileSync(
    'projinfo',
    ['-q', '-o', 'PROJ', '-k', 'operation', `EPSG:${operation}`],
    {
      encoding: 'utf8',
    },
  ).replaceAll('\n', ' ');
  const at = (key: string): number => Number(new RegExp(`\\+${key}=(\\S+)`).exec(text)?.[1] ?? 0);
  if (!/\+proj=helmert/.test(text)) return null;
  const sign = text.includes('coordinate_frame') ? -1 : 1;
  return [
    at('x'),
    at('y'),
    at('z'),
    sign * at('rx'),
    sign * at('ry'),
    sign * at('rz'),
    at('s'),
  ].join(',');
};
const shifts = new Map(
  Object.entries(SHIFTS).map(([datum, operation]) => [datum, shiftOf(operation)]),
);

const edition = Object.fromEntries(
  query("select key, value from metadata where key like 'EPSG%' or key='PROJ.VERSION'"),
);
const projected = query(
  "select code, name from projected_crs where auth_name='EPSG' and deprecated=0 order by code",
);
const lines: string[] = [];
const missed = new Map<string, number>();
for (const [code, name] of projected) {
  const datum = DATUMS.find((one) => name.startsWith(`${one} `)) ?? name.split(' / ')[0];
  if (utmDefinition(Number(code)) !== null) continue;
  if (!DATUMS.includes(datum)) {
    missed.set(datum, (missed.get(datum) ?? 0) + 1);
    continue;
  }
  let definition: string;
  try {
    definition = execFileSync(
      'projinfo',
      ['-q', '-o', 'PROJ', '--boundcrs-to-wgs84', `EPSG:${code}`],
      { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] },
    ).trim();
  } catch {
    continue;
  }
  definition = definition
    .replace(/ ?\+(no_defs|type=crs)/g, '')
    .replace('+towgs84=0,0,0,0,0,0,0', '+towgs84=0,0,0');
  if (definition === '' || /nadgrids|\+axis/.test(definition)) continue;
  const shift = shifts.get(datum);
  if (shift !== undefined && shift !== null) {
    definition = `${definition.replace(/ \+towgs84=\S+/, '')} +towgs84=${shift}`;
  }
  // A datum on the GRS 80 ellipsoid agrees with WGS 84 within two metres.
  if (!/\+(towgs84|datum)/.test(definition) && definition.includes('+ellps=GRS80')) {
    definition += ' +towgs84=0,0,0';
  }
  if (!/\+(towgs84|datum)/.test(definition)) {
    missed.set(`${datum} (no datum shift)`, 1);
    continue;
  }
  try {
    const part = (key: string): number =>
      Number(new RegExp(`\\+${key}=(\\S+)`).exec(definition)?.[1] ?? 0);
    const centre = [
      part('zone') > 0 ? part('zone') * 6 - 183 : part('lon_0') || part('lonc') + 1,
      part('lat_0') * 0.98 + 0.5,
    ];
    const both = proj4(definition);
    const back = both.inverse(both.forward(centre));
    if (!(Math.abs(back[0] - centre[0]) < 1e-6 && Math.abs(back[1] - centre[1]) < 1e-6)) {
      throw new Error('does not come back');
    }
  } catch {
    missed.set(`${code} ${name} (projection)`, 1);
    continue;
  }
  lines.push(`${code}${definition.replace('+proj=', ' ').replaceAll(' +', ' ')}`);
}
lines.sort((a, b) => Number.parseInt(a, 10) - Number.parseInt(b, 10));
process.stderr.write(
  `${lines.length} systems\n${[...missed]
    .filter(([k, n]) => n > 4 || k.includes('('))
    .map(([k, n]) => `${k}: ${n}`)
    .join('\n')}\n`,
);
writeFileSync(
  new URL('../../src/survey/crs/epsg-definitions.json', import.meta.url),
  `${JSON.stringify(
    {
      source: `EPSG Geodetic Parameter Dataset ${edition['EPSG.VERSION']} (IOGP, ${edition['EPSG.DATE']}), as shipped with PROJ ${edition['PROJ.VERSION']}.`,
      definitions: Object.fromEntries(
        lines.map((line) => [line.slice(0, line.indexOf(' ')), line.slice(line.indexOf(' ') + 1)]),
      ),
    },
    null,
    2,
  )}\n`,
);
