import {
  DEGREES,
  degrees,
  FEET,
  type Foreign,
  f3,
  lines,
  type Row,
  TRUTH,
  text,
  US,
  WINDOW,
} from './foreign-texts.js';

/** More texts of points, written after the readers were and without a look at their lists of words. */

const NO_COLUMN = /--columns/;
const OBSERVED = /observations or lengths along a line, not coordinates; export/;

const bytes = (
  name: string,
  content: Uint8Array,
  expected: Foreign['expected'] = TRUTH,
): Foreign => ({
  name,
  bytes: content,
  expected,
});
const latin1 = (content: string): Uint8Array => new Uint8Array(Buffer.from(content, 'latin1'));
const comma = (value: number): string => f3(value).replace('.', ',');
const ne: Row = (p, k) => [`T${k}`, f3(p.n), f3(p.e), f3(p.z)];
const en: Row = (p, k) => [`T${k}`, f3(p.e), f3(p.n), f3(p.z)];
const under = (header: string, row: Row, d = ','): string => `${header}\n${lines(row, d)}`;

/** Words for the columns that the other corpus does not use. */
const wordings = (): Foreign[] => [
  ...(
    [
      ['Nth', 'Est', 'Lvl'],
      ['Northings (mN)', 'Eastings (mE)', 'RL (mAHD)'],
      ['utm_north', 'utm_east', 'height_msl'],
      ['UTM N [m]', 'UTM E [m]', 'Ortho. Elev. [m]'],
      ['Northing (Y)', 'Easting (X)', 'Elev (Z)'],
      ['NORTE (Y)', 'ESTE (X)', 'COTA (Z)'],
      ['Coord. N', 'Coord. E', 'Coord. H'],
      ['N-coord', 'E-coord', 'Z-coord'],
      ['Coordenada Norte', 'Coordenada Este', 'Cota'],
      ['Coordinata Nord', 'Coordinata Est', 'Quota'],
      ['Ordonnée (Y)', 'Abscisse (X)', 'Altitude (Z)'],
      ['Ordenada', 'Abscisa', 'Elevación'],
      ['Y-coördinaat', 'X-coördinaat', 'Hoogte t.o.v. NAP'],
      ['N-koordinat', 'E-koordinat', 'Höjd'],
      ['Hochwert [m]', 'Rechtswert [m]', 'Höhe (DHHN2016) [m]'],
      ['Hoch (X)', 'Rechts (Y)', 'Höhe ü. NHN'],
      ['Yukarı (X)', 'Sağa (Y)', 'Kot'],
      ['pohj.', 'itä', 'kork.'],
      ['Pos. North', 'Pos. East', 'Reduced Level'],
      ['Northing', 'Easting', 'R.L.'],
      ['Northing', 'Easting', 'AOD'],
      ['Northing', 'Easting', 'Level (mAOD)'],
      ['Northing', 'Easting', 'Ht.'],
      ['north_m', 'east_m', 'rl_m'],
      ['n', 'e', 'u'],
      ['yCoordinate', 'xCoordinate', 'zCoordinate'],
      ['POINT_Y', 'POINT_X', 'POINT_Z'],
      ['ycoord', 'xcoord', 'elev_m'],
      ['Adj. Northing', 'Adj. Easting', 'Adj. Elevation'],
      ['MGA Northing', 'MGA Easting', 'AHD Height'],
      ['NORTHING(GRID)', 'EASTING(GRID)', 'ELEVATION(NAVD88)'],
    ] as const
  ).map(([n, e, z]) =>
    text(
      `wording ${n}`,
      under(`Pt;${n};${e};${z};Rem`, (p, k) => [...ne(p, k), ''], ';'),
    ),
  ),
];

/** X for north, by the custom or law of a country: by the map, or as the names say beside it. */
const northIsX = (): Foreign[] => [
  text('x north by the map', under('No,X,Y,Z', ne), TRUTH, { window: WINDOW }),
  text('x and y with signs of axes by the map', under('測点名,X座標,Y座標,標高', ne), TRUTH, {
    window: WINDOW,
  }),
  text('x north beside h by the map', under('点号;X;Y;H', ne, ';'), TRUTH, { window: WINDOW }),
  text('x y h under a title by the map', `Roboty 7\n${under('Nr X Y H', ne, '  ')}`, TRUTH, {
    window: WINDOW,
  }),
  text('x(n) y(e)', under('점번호,X(N),Y(E),Z', ne)),
];

/** Layouts of lines that programs write. */
const layouts = (): Foreign[] => [
  text(
    'table of a readme',
    `| Pt | N | E | H |\n|---|---|---|---|\n${TRUTH.map((p, k) => `| ${ne(p, k).join(' | ')} |`).join('\n')}\n`,
  ),
  text('pipes', under('Pt|N|E|H', ne, '|')),
  text(
    'ruled table',
    `Pt      N           E           H\n------- ----------- ----------- -------\n${lines(ne, '  ')}\n`,
  ),
  text('table with lines of equals', `=======\nPt N E H\n=======\n${lines(ne, ' ')}\n=======\n`),
  text('comma and space', under('Pt, N, E, H', ne, ', ')),
  text(
    'header of two rows',
    `Point,Coordinates,,,Code\n,North,East,Elev,\n${lines((p, k) => [...ne(p, k), 'g'])}`,
  ),
  text(
    'header broken in its fields',
    `Pt,"Northing\n(m)","Easting\n(m)","Height\n(m)"\n${lines(ne)}`,
  ),
  text('header in quotes of one kind', `'Pt','N','E','H'\n${lines(ne)}`),
  text(
    'fields in single quotes',
    `Pt;N;E;H\n${lines((p, k) => ne(p, k).map((v) => `'${v}'`), ';')}`,
  ),
  text(
    'quoted decimal commas',
    `Pt,N,E,H\n${lines((p, k) => [k, ...[p.n, p.e, p.z].map((v) => `"${comma(v)}"`)])}`,
  ),
  text(
    'decimal commas between commas',
    `N,E,H\n${lines((p) => [p.n, p.e, p.z].map(comma))}`,
    /commas seem to part fields and decimals alike; export/,
  ),
  text(
    'decimal commas between commas, no names',
    lines((p, k) => [k, ...[p.n, p.e, p.z].map(comma)]),
    /whole numbers.*--columns/,
  ),
  text(
    'count, then points of a cloud',
    `12\n${lines((p) => [f3(p.e), f3(p.n), f3(p.z), -1200, 12, 13, 14], ' ')}\n`,
  ),
  text(
    'cloud under a comment',
    `//X Y Z Intensity R G B\n${lines((p) => [f3(p.e), f3(p.n), f3(p.z), 12, 1, 2, 3], ' ')}\n`,
  ),
  text(
    'cloud with names',
    under('X,Y,Z,Intensity,Red,Green,Blue,Nx,Ny,Nz', (p) => [
      f3(p.e),
      f3(p.n),
      f3(p.z),
      3,
      1,
      2,
      3,
      '0.1',
      '0.2',
      '0.9',
    ]),
  ),
  text(
    'solution of positions',
    `% program: test\n%  UTC                   latitude(deg) longitude(deg)  height(m)   Q  ns   sdn(m)   sde(m)   sdu(m)\n${lines(
      (p, k) => [
        `2025/11/02 10:${10 + k}:00.000`,
        p.n.toFixed(11),
        p.e.toFixed(11),
        p.z.toFixed(4),
        1,
        18,
        '0.0101',
        '0.0102',
        '0.0150',
      ],
      '   ',
      DEGREES,
    )}`,
    DEGREES,
    { sigma: DEGREES.map(() => 0.015) },
  ),
  text(
    'values by their names',
    TRUTH.map((p, k) => `ID=${k};N=${f3(p.n)};E=${f3(p.e)};H=${f3(p.z)}`).join('\n'),
    /the numbers stand among other signs; one point a line/,
  ),
  text(
    'two blocks in two orders',
    `${under('Pt,N,E,H', ne)}\n\n${under('Pt,E,N,H', en)}`,
    /line 15: the names of the columns stand in another order.*file of its own/,
  ),
  text(
    'two blocks in two orders, both right',
    `${under('Pt,N,E,H', (p, k) => ne(p, k))}\n\nPt,N,E,H\n`,
    TRUTH,
  ),
  text(
    'two blocks in two units',
    `${under('Pt,N (m),E (m),H (m)', ne)}\n${under('Pt,N (ft),E (ft),H (ft)', ne)}`,
    /line 14: the names of the columns state another unit/,
  ),
  text(
    'a unit changed on the way',
    `Units: Metres\n${under('Pt,N,E,H', ne)}\nUnits: Feet\n${lines(ne)}`,
    /line 15: the line states another unit/,
  ),
  text(
    'codes of two lines',
    under('Pt,N,E,H,Code', (p, k) => [...ne(p, k), '"edge, with\tthree"']),
  ),
  text(
    'code first',
    under('Code,Pt,E,N,H', (p, k) => ['GR', ...en(p, k)]),
  ),
  text(
    'date and time before',
    under('Date,Time,Pt,E,N,H', (p, k) => ['02/11/2025', `10:${10 + k}:00 AM`, ...en(p, k)]),
  ),
  text(
    'stamp before three numbers, by the map',
    lines((p, k) => [`2025-11-02T10:${10 + k}:00Z`, f3(p.e), f3(p.n), f3(p.z)]),
    TRUTH,
    { window: WINDOW },
  ),
  text(
    'trailing semicolons',
    under('Pt;N;E;H;;', (p, k) => [...ne(p, k), '', ''], ';'),
  ),
  text(
    'exponents of another language',
    under('N E H', (p) => [p.n, p.e, p.z].map((v) => v.toExponential(12).replace('e', 'D')), ' '),
  ),
  ...['NaN', 'null', 'n/a', '#N/A', '---', '-', 'nil', 'none', 'void', '?', '-99999'].map(
    (mark, k) =>
      text(
        `no height by mark ${k + 1}`,
        `${under('Pt,N,E,H', ne)}\nT99,5712310.000,512350.000,${mark}\n`,
      ),
  ),
  text(
    'a height of nines',
    `${under('Pt,N,E,H', ne)}\nT99,5712310.000,512350.000,9999.000\n`,
    /line 14: the height .* is not a height on Earth/,
  ),
  text(
    'heights in brackets',
    under('Pt,N,E,H', (p, k) => [k, f3(p.n), f3(p.e), k === 4 ? `(${f3(p.z)})` : f3(p.z)]),
    /\(.*not a number|in brackets/,
  ),
  text(
    'check shots',
    under('Pt,N,E,H,Code', (p, k) => [...ne(p, k), k === 3 ? 'CHK' : 'GR']),
  ),
  text(
    'deviations as S',
    under('Pt,N,E,H,sN,sE,sH', (p, k) => [...ne(p, k), '0.01', '0.02', '0.013']),
    TRUTH,
    { sigma: TRUTH.map(() => 0.013) },
  ),
  text(
    'deviations up',
    under('Pt,North(m),East(m),Elevation(m),Std N,Std E,Std U', (p, k) => [
      ...ne(p, k),
      '0.01',
      '0.02',
      '0.013',
    ]),
    TRUTH,
    { sigma: TRUTH.map(() => 0.013) },
  ),
  text(
    'one and three sigma',
    under('Pt,N,E,H,3D CQ,2D CQ,1D CQ', (p, k) => [...ne(p, k), '0.05', '0.04', '0.03']),
    TRUTH,
    { sigma: TRUTH.map(() => 0.03) },
  ),
  text(
    'elevation beside a design',
    under('Pt,N,E,Design Elev,Elev,Cut/Fill', (p, k) => [
      `T${k}`,
      f3(p.n),
      f3(p.e),
      '50.000',
      f3(p.z),
      '1.2',
    ]),
  ),
  text(
    'two heights',
    under('Pt,N,E,Elev Old,Elev New', (p, k) => [...ne(p, k).slice(0, 3), f3(p.z - 1), f3(p.z)]),
    /"Elev Old" and "Elev New" are the same by their names; name the columns/,
  ),
  text(
    'two heights, named in order',
    under('Pt,N,E,Elev Old,Elev New', (p, k) => [...ne(p, k).slice(0, 3), f3(p.z - 1), f3(p.z)]),
    TRUTH,
    { options: { columns: ['id', 'north', 'east', 'other', 'height'] } },
  ),
  text(
    'a height above something',
    under('Pt,N,E,Rel. Height,Elevation', (p, k) => [...ne(p, k).slice(0, 3), '0.1', f3(p.z)]),
  ),
  text(
    'height before',
    under('H,Pt,E,N', (p, k) => [f3(p.z), `T${k}`, f3(p.e), f3(p.n)]),
  ),
  text(
    'offsets of the pole beside',
    under('Pt,N,E,H,Offset N,Offset E,Target Height', (p, k) => [...ne(p, k), 0, 0, '1.8']),
  ),
];

/** Units said in other places and words. */
const units = (): Foreign[] => {
  const at =
    (factor: number): Row =>
    (p, k) => [k, ...[p.n, p.e, p.z].map((v) => (v / factor).toFixed(6))];
  return [
    text('unit glued to the names', under('Pt NORTHING_FT EASTING_FT ELEV_FT', at(FEET), ' ')),
    text('survey feet glued', under('Pt N(USft) E(USft) Z(USft)', at(US), ' ')),
    text(
      'unit by its symbol behind a dash',
      under('Pt,Northing - ft,Easting - ft,Elev - ft', at(FEET)),
    ),
    text('international feet', under('Pt,N (intl ft),E (intl ft),Z (intl ft)', at(FEET))),
    text(
      'international feet in full',
      under('Pt,N (International Feet),E (International Feet),Z (International Feet)', at(FEET)),
    ),
    text('survey feet in a line', `# Linear unit: US Survey Foot\n${under('Pt,N,E,Z', at(US))}`),
    text(
      'coordinates in feet, a line',
      `Coordinates in US survey feet\n${under('Pt,N,E,Z', at(US))}`,
    ),
    text(
      'all distances in feet',
      `All distances in international feet.\n${under('Pt,N,E,Z', at(FEET))}`,
    ),
    text('survey feet in a title', `State plane, US Survey Feet\n${under('Pt,N,E,Z', at(US))}`),
    text('einheit', `Einheit: Meter\n${under('Pt;N;E;H', ne, ';')}`),
    text('unités', `Unités : mètres\n${under('Pt;N;E;H', ne, ';')}`),
    text('inches', under('Pt,N (in),E (in),Z (in)', at(0.0254))),
    text(
      'chains',
      under('Pt,N (ch),E (ch),Z (ch)', at(20.1168)),
      /\(ch\)" is in a unit that is not read; export/,
    ),
    text('yards', under('Pt,N (yd),E (yd),Z (yd)', at(0.9144))),
    text(
      'kilometres',
      under('Pt,N (km),E (km),Z (m)', (p, k) => [
        k,
        (p.n / 1000).toFixed(7),
        (p.e / 1000).toFixed(7),
        f3(p.z),
      ]),
    ),
    text('decimetres', under('Pt,N (dm),E (dm),Z (dm)', at(0.1))),
  ];
};

/** Degrees in other columns and writings. */
const angles = (): Foreign[] => [
  text(
    'degrees of the datum',
    under('Pt,WGS84 Latitude,WGS84 Longitude,WGS84 Ellipsoid Height', () => []).replace(
      /\n[\s\S]*$/,
      `\n${lines((p, k) => [k, p.n.toFixed(11), p.e.toFixed(11), f3(p.z)], ',', DEGREES)}`,
    ),
    DEGREES,
  ),
  text(
    'degrees named in short',
    `lat_dd;lon_dd;alt_m\n${lines((p) => [p.n.toFixed(11), p.e.toFixed(11), f3(p.z)], ';', DEGREES)}`,
    DEGREES,
  ),
  text(
    'degrees named with their unit',
    `latitude_deg,longitude_deg,h_ell\n${lines((p) => [p.n.toFixed(11), p.e.toFixed(11), f3(p.z)], ',', DEGREES)}`,
    DEGREES,
  ),
  text(
    'degrees in parts',
    `Lat D,Lat M,Lat S,Lon D,Lon M,Lon S,H\n${lines(
      (p) => {
        const parts = (v: number): number[] => {
          const a = Math.abs(v);
          const d = Math.floor(a);
          const m = Math.floor((a - d) * 60);
          return [Math.sign(v) * d, m, ((a - d) * 60 - m) * 60];
        };
        return [...parts(p.n), ...parts(p.e), f3(p.z)];
      },
      ',',
      DEGREES,
    )}`,
    /degrees, minutes and seconds stand in columns of their own; write/,
  ),
  text(
    'degrees without names',
    lines((p) => [degrees(p.n, 1, true), degrees(p.e, 1, false), f3(p.z)], ';', DEGREES),
    DEGREES,
  ),
  text(
    'degrees without names, the longer first',
    lines((p) => [degrees(p.e, 8, false), degrees(p.n, 8, true), f3(p.z)], ',', DEGREES),
    DEGREES,
  ),
  text(
    'plain degrees without names',
    lines((p) => [p.n.toFixed(9), p.e.toFixed(9), f3(p.z)], ',', DEGREES),
    /look like degrees; write --crs EPSG:4326/,
  ),
  text(
    'gons',
    `Pt;Lat (gon);Lon (gon);H\n${lines((p, k) => [k, (p.n / 0.9).toFixed(10), (p.e / 0.9).toFixed(10), f3(p.z)], ';', DEGREES)}`,
    /\(gon\)" is in a unit that is not read; export/,
  ),
  text(
    'radians',
    `Pt;Lat (rad);Lon (rad);H\n${lines((p, k) => [k, ((p.n * Math.PI) / 180).toFixed(12), ((p.e * Math.PI) / 180).toFixed(12), f3(p.z)], ';', DEGREES)}`,
    /\(rad\)" is in a unit that is not read; export/,
  ),
];

/** Letters of other encodings. */
const letters = (): Foreign[] => [
  bytes(
    'sixteen bits',
    new Uint8Array(Buffer.from(`\ufeff${under('Pt\tNord\tOst\tHöhe', ne, '\t')}`, 'utf16le')),
  ),
  bytes(
    'sixteen bits, the high byte first',
    new Uint8Array(Buffer.from(`\ufeff${under('Pt\tN\tE\tH', ne, '\t')}`, 'utf16le').swap16()),
  ),
  bytes('one byte a letter', latin1(under('Pt;Nord;Ost;Höhe', ne, ';'))),
  bytes(
    'one byte a letter, degrees',
    latin1(
      `Lat;Lon;H\n${lines((p) => [degrees(p.n, 1, true), degrees(p.e, 1, false), f3(p.z)], ';', DEGREES)}`,
    ),
    DEGREES,
  ),
];

/** No coordinates of points. */
const others = (): Foreign[] => [
  text(
    'chainage and offset',
    under('Pt,Chainage,Offset,Level', (p, k) => [k, f3(10 + k), f3(k / 3), f3(p.z)]),
    OBSERVED,
  ),
  text(
    'observations',
    under('Pt,Hz Angle,V Angle,Slope Dist', (_, k) => [k, '12.3456', '89.1234', f3(10 + k)]),
    OBSERVED,
  ),
  text('names of no language', under('Pt,Perpendicular,Meridiana,Cota', ne), NO_COLUMN),
  text(
    'levels',
    under('Station,BS,IS,FS,HI,RL', (p, k) => [k, '1.2', '', '', '53.1', f3(p.z)]),
    NO_COLUMN,
  ),
  text(
    'distances and bearings',
    under('From,To,Bearing,Distance', (_, k) => [k, k + 1, '12.3456', f3(10 + k)]),
    OBSERVED,
  ),
  text('records in braces', JSON.stringify(TRUTH), /JSON and not GeoJSON; export/),
  text(
    'records in braces, one a line',
    TRUTH.map((p) => JSON.stringify(p)).join('\n'),
    /each line is JSON of its own.*; export/,
  ),
  text('a list of files', 'green1.csv\ngreen2.csv\ngreen3.csv\n', /three numbers/),
  text(
    'west and south',
    under('Pt,West,South,H', ne),
    /"Pt, West, South, H" are not known; write --columns/,
  ),
];

export const foreignVariants = (): Foreign[] => [
  ...wordings(),
  ...northIsX(),
  ...layouts(),
  ...units(),
  ...angles(),
  ...letters(),
  ...others(),
];
