/**
 * Texts of points in the manner of instruments and programs, each with the answer expected: the points of
 * the script, or a refusal that names the cause and the cure. Invented coordinates; seeded.
 */

export interface Spot {
  readonly e: number;
  readonly n: number;
  readonly z: number;
}

export interface Foreign {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly options?: object;
  /** A window of metres that holds the points, as a map gives it; absent without a map. */
  readonly window?: { minX: number; minY: number; maxX: number; maxY: number };
  /** Positions and heights in metres; or the refusal's words. */
  readonly expected: readonly Spot[] | RegExp;
  readonly sigma?: readonly number[];
}

/** Numbers from 0 to 1, the same for the same seed (mulberry32). */
export const seeded = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

const random = seeded(7001);
const round = (value: number, digits: number): number => Number(value.toFixed(digits));

/** A dozen points of a green, metres. */
export const TRUTH: readonly Spot[] = Array.from({ length: 12 }, () => ({
  e: round(512_340 + 30 * random(), 3),
  n: round(5_712_300 + 40 * random(), 3),
  z: round(51 + 2 * random(), 3),
}));

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
export const text = (
  name: string,
  content: string,
  expected: Foreign['expected'] = TRUTH,
  rest: Partial<Foreign> = {},
): Foreign => ({ name, bytes: encode(content), expected, ...rest });

export type Row = (p: Spot, k: number) => readonly (string | number)[];
export const f3 = (value: number): string => value.toFixed(3);
export const lines = (row: Row, d = ',', points = TRUTH): string =>
  points.map((p, k) => row(p, k).join(d)).join('\n');
const enz: Row = (p) => [f3(p.e), f3(p.n), f3(p.z)];
const pnezd: Row = (p, k) => [k + 1, f3(p.n), f3(p.e), f3(p.z), 'GR'];
const penzd: Row = (p, k) => [k + 1, f3(p.e), f3(p.n), f3(p.z), 'GR'];

/** North, east and height in the wordings of the trade and of the languages. */
const NAMES: readonly (readonly [string, string, string])[] = [
  ['Northing', 'Easting', 'Elevation'],
  ['NORTHING', 'EASTING', 'ELEV'],
  ['Grid Northing', 'Grid Easting', 'Ortho Height'],
  ['Grid_Northing', 'Grid_Easting', 'Orthometric_Height'],
  ['Local Northing', 'Local Easting', 'Local Elevation'],
  ['Ground Northing', 'Ground Easting', 'Elevation'],
  ['GridNorthing', 'GridEasting', 'OrthoHeight'],
  ['N', 'E', 'Z'],
  ['N', 'E', 'Elev.'],
  ['n', 'e', 'h'],
  ['North', 'East', 'ELV'],
  ['North', 'East', 'RL'],
  ['Y', 'X', 'Z'],
  ['y', 'x', 'z'],
  ['Y Coordinate', 'X Coordinate', 'Z Coordinate'],
  ['Northing Coord', 'Easting Coord', 'Level'],
  ['Nord', 'Ost', 'Höhe'],
  ['Hochwert', 'Rechtswert', 'Höhe'],
  ['Hoch', 'Rechts', 'Hoehe'],
  ['X Nord', 'Y Ost', 'H'],
  ['X (Nord)', 'Y (Ost)', 'Höhe'],
  ['Nord', 'Est', 'Altitude'],
  ['Norte', 'Este', 'Cota'],
  ['NORTE', 'ESTE', 'COTA'],
  ['Norte', 'Este', 'Elevación'],
  ['Norte', 'Leste', 'Cota'],
  ['Nord', 'Est', 'Quota'],
  ['Noord', 'Oost', 'Hoogte'],
  ['Norr', 'Öst', 'Höjd'],
  ['Nord', 'Øst', 'Høyde'],
  ['Nord', 'Øst', 'Kote'],
  ['Pohjoinen', 'Itä', 'Korkeus'],
  ['Północ', 'Wschód', 'Wysokość'],
  ['Sever', 'Východ', 'Výška'],
  ['Sjever', 'Istok', 'Visina'],
  ['Sever', 'Vzhod', 'Višina'],
  ['Észak', 'Kelet', 'Magasság'],
  ['Kuzey', 'Doğu', 'Yükseklik'],
  ['Nord', 'Est', 'Cotă'],
  ['Север', 'Восток', 'Высота'],
  ['Βορράς', 'Ανατολή', 'Υψόμετρο'],
  ['北', '東', '標高'],
  ['북', '동', '표고'],
  ['Utara', 'Timur', 'Tinggi'],
  ['Põhi', 'Ida', 'Kõrgus'],
  ['Ziemeļi', 'Austrumi', 'Augstums'],
  ['Šiaurė', 'Rytai', 'Aukštis'],
  ['Norður', 'Austur', 'Hæð'],
];

const named = (): Foreign[] =>
  NAMES.flatMap(([n, e, z], i): Foreign[] => {
    const row: Row = (p, k) => [`P${k + 1 + (k > 5 ? 7 : 0)}`, f3(p.n), f3(p.e), f3(p.z), 'GR'];
    const comma: Row = (p, k) => row(p, k).map((v) => String(v).replace('.', ','));
    return [
      text(`names ${i} comma`, `Point,${n},${e},${z},Code\n${lines(row)}`),
      text(
        `names ${i} semicolon, decimal comma`,
        `${z};${e};${n}\n${lines((p) => [f3(p.z), f3(p.e), f3(p.n)].map((v) => v.replace('.', ',')), ';')}`,
      ),
      text(
        `names ${i} tab`,
        `Nr\t${n}\t${e}\t${z}\tBemerkung\r\n${lines(comma, '\t').replaceAll('\n', '\r\n')}`,
      ),
    ];
  });

export const FEET = 0.3048;
export const US = 1200 / 3937;
/** The ground of the course that the points are of. */
export const WINDOW = { minX: 512_330, minY: 5_712_290, maxX: 512_380, maxY: 5_712_350 };
const UNITS: readonly (readonly [string, number, number])[] = [
  ['(m)', 1, 3],
  ['[m]', 1, 3],
  ['_m', 1, 3],
  [' (meters)', 1, 3],
  [' metres', 1, 3],
  ['(ft)', FEET, 6],
  [' [ft]', FEET, 6],
  ['_ft', FEET, 6],
  [' (feet)', FEET, 6],
  [" (')", FEET, 6],
  ['(usft)', US, 6],
  [' (US Survey Foot)', US, 6],
  ['_us_ft', US, 6],
  [' (us-ft)', US, 6],
  [' [ftUS]', US, 6],
  [' (US survey feet)', US, 6],
  [' (sft)', US, 6],
  ['(cm)', 0.01, 3],
  [' [mm]', 0.001, 2],
  [' mm', 0.001, 2],
];

const withUnits = (): Foreign[] =>
  UNITS.flatMap(([unit, metres, digits]): Foreign[] => {
    const row: Row = (p, k) => [k + 1, ...[p.n, p.e, p.z].map((v) => (v / metres).toFixed(digits))];
    return [
      text(`unit${unit}`, `id,Northing${unit},Easting${unit},Elevation${unit}\n${lines(row)}`),
      text(
        `heights alone${unit}`,
        `id,N (m),E (m),Elev${unit}\n${lines((p, k) => [k + 1, f3(p.n), f3(p.e), (p.z / metres).toFixed(digits)])}`,
      ),
    ];
  });

/** Lines that are no points, round points that are. */
const untidy = (): Foreign[] => {
  const head = 'Point,Northing,Easting,Elevation,Code';
  const body = lines(pnezd);
  const all = `${head}\n${body}`;
  const rows = body.split('\n');
  const between = (line: string): string =>
    [head, ...rows.slice(0, 5), line, ...rows.slice(5)].join('\n');
  return [
    text('job header', `Job: GREEN 7\nDate: 2025-11-02\nOperator: -\n\n${all}`),
    text('job header with numbers', `Job,7\nDate,02,11,2025\nUnits,Metres\n${all}`),
    text('sep line', `sep=;\n${all.replaceAll(',', ';')}`),
    text('sep comma', `sep=,\r\n${all}`),
    text('semicolon comments', `; made by hand\n${all}`),
    text('percent comments', `% made\n% by hand\n${all}`),
    text('hash comments', `# made\n${between('# pause')}`),
    text('exclamation comments', `! made\n${all}`),
    text('star comments', `* made\n${between('* rod changed')}`),
    text('slashes', `// made\n${all}`),
    text('commented header', `#${head}\n${body}`),
    text('units row', `${head}\n,m,m,m,\n${body}`),
    text('units row in brackets', `${head}\n,(m),(m),(m),\n${body}`),
    text(
      'units row in feet',
      `${head}\n-,ft,ft,ft,-\n${lines((p, k) => [k, ...[p.n, p.e, p.z].map((v) => (v / FEET).toFixed(6)), 'g'])}`,
    ),
    text('repeated header', between(head)),
    text('repeated header, two blank lines', between(`\n\n${head}`)),
    text(
      'trailing commas',
      all
        .split('\n')
        .map((line) => `${line},,,`)
        .join('\n'),
    ),
    text('total', `${all}\nTotal points: 12`),
    text('total with commas', `${all}\nTotal,,,,12`),
    text('end mark', `${all}\nEND`),
    text('control Z', `${all}\n\u001a`),
    text('control Z behind the last point', `${all}\u001a`),
    text(
      'thousands in quotes',
      `${head}\n${lines((p, k) => [k, `"${p.n.toLocaleString('en-US', { minimumFractionDigits: 3 })}"`, `"${p.e.toLocaleString('en-US', { minimumFractionDigits: 3 })}"`, f3(p.z), 'g'])}`,
    ),
    text(
      'thousands by spaces',
      `N;E;H\n${lines(
        (p) =>
          [p.n, p.e, p.z].map((v) =>
            f3(v)
              .replace(/\B(?=(\d{3})+\.)/g, ' ')
              .replace('.', ','),
          ),
        ';',
      )}`,
    ),
    text(
      'thousands by apostrophes',
      `N;E;H\n${lines((p) => [p.n, p.e, p.z].map((v) => f3(v).replace(/\B(?=(\d{3})+\.)/g, "'")), ';')}`,
    ),
    text(
      'unicode minus',
      `N,E,Z\n${lines((p) => [f3(p.n), f3(p.e), `\u2212${f3(p.z)}`])}`,
      TRUTH.map((p) => ({ ...p, z: -p.z })),
    ),
    text(
      'unit behind the number',
      `N,E,Z\n${lines((p) => [`${f3(p.n)} m`, `${f3(p.e)} m`, `${f3(p.z)} m`])}`,
    ),
    text(
      'unit glued to the number',
      `N,E,Z\n${lines((p) => [`${f3(p.n)}m`, `${f3(p.e)}m`, `${f3(p.z)}m`])}`,
    ),
    text(
      'feet behind the number',
      `N,E,Z\n${lines((p) => [p.n, p.e, p.z].map((v) => `${(v / FEET).toFixed(6)} ft`))}`,
    ),
    text('blank height', between('99,5712310.000,512350.000,,GR')),
    text('star for the height', between('99,5712310.000,512350.000,*,GR')),
    text('-9999 for the height', between('99,5712310.000,512350.000,-9999,GR')),
    text('byte order mark', `\ufeff${all}`),
    text('blank lines everywhere', all.replaceAll('\n', '\n\n')),
    text('lone CR', all.replaceAll('\n', '\r')),
    text(
      'quoted fields',
      all
        .split('\n')
        .map((line) =>
          line
            .split(',')
            .map((v) => `"${v}"`)
            .join(','),
        )
        .join('\n'),
    ),
    text('exponents', `N,E,Z\n${lines((p) => [p.n, p.e, p.z].map((v) => v.toExponential(12)))}`),
    text('plus signs', `N,E,Z\n${lines((p) => [p.n, p.e, p.z].map((v) => `+${f3(v)}`))}`),
    text('leading zeros', `N,E,Z\n${lines((p) => [p.n, p.e, p.z].map((v) => `000${f3(v)}`))}`),
    text(
      'units line',
      `Units: US survey feet\n${head}\n${lines((p, k) => [k, ...[p.n, p.e, p.z].map((v) => (v / US).toFixed(6)), 'g'])}`,
    ),
    text('units line of metres', `Distance Units: Meters\n${all}`),
    text('system named', `# EPSG:32630\n${all}`),
    text('names padded', `  Point ,  Northing ,  Easting ,  Elevation , Code\n${body}`),
    text(
      'aligned columns',
      `Point   Northing       Easting      Elevation  Code\n${lines(pnezd, '    ')}`,
    ),
    text(
      'aligned, names of two words',
      `Point ID   Grid Northing   Grid Easting   Ortho Height   Code\n${lines(pnezd, '   ')}`,
    ),
    text(
      'codes with spaces',
      `${head}\n${lines((p, k) => [k, f3(p.n), f3(p.e), f3(p.z), 'edge of green'])}`,
    ),
  ];
};

/** Further columns: quality, both heights, both systems, antenna heights. */
const rich = (): Foreign[] => {
  const sigma = TRUTH.map((_, k) => round(0.008 + 0.001 * k, 4));
  const q = (name: string, h: string, row: Row, rest: Partial<Foreign> = {}): Foreign =>
    text(name, `${h}\n${lines(row)}`, TRUTH, rest);
  return [
    q(
      'sigma of the height',
      'id,E,N,Z,Sigma Z',
      (p, k) => [k, f3(p.e), f3(p.n), f3(p.z), sigma[k]],
      { sigma },
    ),
    q(
      'HRMS and VRMS',
      'Point,Northing,Easting,Elevation,HRMS,VRMS',
      (p, k) => [k, f3(p.n), f3(p.e), f3(p.z), 0.5, sigma[k]],
      { sigma },
    ),
    q(
      'vertical precision',
      'Name,N,E,Elev,Hz Prec,Vert Prec',
      (p, k) => [k, f3(p.n), f3(p.e), f3(p.z), 0.5, sigma[k]],
      { sigma },
    ),
    q(
      'SD of each',
      'Name,E,N,H,SD E,SD N,SD H',
      (p, k) => [k, f3(p.e), f3(p.n), f3(p.z), 0.4, 0.5, sigma[k]],
      { sigma },
    ),
    q(
      'RMS in centimetres',
      'Name,E,N,H,VRMS (cm)',
      (p, k) => [k, f3(p.e), f3(p.n), f3(p.z), round(100 * sigma[k], 3)],
      { sigma },
    ),
    q('both heights', 'Name,N,E,Ellipsoidal Height,Ortho Height', (p, k) => [
      k,
      f3(p.n),
      f3(p.e),
      f3(p.z + 47.1),
      f3(p.z),
    ]),
    q('both heights, abbreviated', 'Name,N,E,Ellip Ht,Elev', (p, k) => [
      k,
      f3(p.n),
      f3(p.e),
      f3(p.z + 47.1),
      f3(p.z),
    ]),
    q('antenna height', 'Name,N,E,Antenna Height,Elevation', (p, k) => [
      k,
      f3(p.n),
      f3(p.e),
      '2.000',
      f3(p.z),
    ]),
    q('rod height behind', 'Name,N,E,Elevation,Rod Height', (p, k) => [
      k,
      f3(p.n),
      f3(p.e),
      f3(p.z),
      '2.000',
    ]),
    q('geoid height', 'Name,N,E,Geoid Height,Elevation', (p, k) => [
      k,
      f3(p.n),
      f3(p.e),
      '47.1',
      f3(p.z),
    ]),
    q('grid and local', 'Name,Local N,Local E,Grid N,Grid E,Elev', (p, k) => [
      k,
      '1000.1',
      '2000.2',
      f3(p.n),
      f3(p.e),
      f3(p.z),
    ]),
    q('projected beside degrees', 'Name,Latitude,Longitude,Northing,Easting,Elev', (p, k) => [
      k,
      '51.5',
      '-2.1',
      f3(p.n),
      f3(p.e),
      f3(p.z),
    ]),
    q('time and satellites', 'Name,Time,Sats,PDOP,N,E,Elev', (p, k) => [
      k,
      `10:${10 + k}:00`,
      18,
      '1.2',
      f3(p.n),
      f3(p.e),
      f3(p.z),
    ]),
    q('delta columns', 'Name,dN,dE,dZ,N,E,Z', (p, k) => [
      k,
      '0.01',
      '0.02',
      '0.03',
      f3(p.n),
      f3(p.e),
      f3(p.z),
    ]),
    q('height by elimination', 'Point,Northing,Easting,Wert', (p, k) => [
      `A${k}`,
      f3(p.n),
      f3(p.e),
      f3(p.z),
    ]),
  ];
};

/** Orders that nothing in the file settles: by the map, or refused. */
const orders = (): Foreign[] => {
  const window = WINDOW;
  const refused =
    /nothing says which; write --columns ".*north.*" or --columns ".*east.*", or the key columns/;
  const gap =
    (row: Row): Row =>
    (p, k) => [3 * k * k + 101, ...row(p, k).slice(1)];
  const texts: readonly (readonly [string, string])[] = [
    ['number north east', lines(pnezd)],
    ['number east north', lines(penzd)],
    ['number north east, gaps', lines(gap(pnezd))],
    ['number east north, gaps', lines(gap(penzd))],
    ['number north east, spaces', lines((p, k) => pnezd(p, k).slice(0, 4), ' ')],
    ['number east north, tabs', lines(penzd, '\t')],
    ['name north east', lines((p, k) => [`GR${k}`, f3(p.n), f3(p.e), f3(p.z)])],
    [
      'name east north, semicolons',
      lines((p, k) => [`GR${k}`, f3(p.e), f3(p.n), f3(p.z), 'x'], ';'),
    ],
    ['number north east behind a title', `GREEN 7\n${lines(pnezd)}`],
    [
      'number east north, shuffled numbers',
      lines((p, k) => [(k * 7) % 13, f3(p.e), f3(p.n), f3(p.z)]),
    ],
  ];
  return [
    ...texts.map(([name, content]) => text(name, content, refused)),
    ...texts.map(([name, content]) => text(`${name}, by the map`, content, TRUTH, { window })),
    ...texts.slice(0, 6).map(([name, content], k) =>
      text(`${name}, as asked`, content, TRUTH, {
        options: { columns: [k % 2 === 0 ? 'PNEZD' : 'PENZD'] },
      }),
    ),
    text('three numbers', lines(enz)),
    text('three numbers, spaces', lines(enz, '  ')),
    text(
      'three numbers and a code',
      lines((p) => [...enz(p, 0), 'GR']),
    ),
    text(
      'three numbers and colours',
      lines((p) => [...enz(p, 0), 120, 130, 90], ' '),
    ),
    text(
      'both readings on the green',
      lines((p, k) => [k, f3(p.e - 512_000), f3(p.n - 5_712_000), f3(p.z)]),
      refused,
      {
        window: { minX: 300, minY: 300, maxX: 380, maxY: 380 },
      },
    ),
  ];
};

export const degrees = (value: number, how: number, isLatitude: boolean): string => {
  const size = Math.abs(value);
  const d = Math.floor(size);
  const m = Math.floor((size - d) * 60);
  const s = ((size - d) * 60 - m) * 60;
  const letter = isLatitude ? (value < 0 ? 'S' : 'N') : value < 0 ? 'W' : 'E';
  const sign = value < 0 ? '-' : '';
  const two = (v: number): string => String(v).padStart(2, '0');
  const seconds = s.toFixed(7).padStart(10, '0');
  switch (how) {
    case 0:
      return value.toFixed(11);
    case 1:
      return `${d}°${two(m)}'${seconds}"${letter}`;
    case 2:
      return `${letter}${d}°${two(m)}'${seconds}"`;
    case 3:
      return `${d} ${two(m)} ${seconds} ${letter}`;
    case 4:
      return `${sign}${d}°${two(m)}′${seconds}″`;
    case 5:
      return `${d}°${(m + s / 60).toFixed(9)}'${letter}`;
    case 6:
      return `${sign}${d}:${two(m)}:${seconds}`;
    case 7:
      return `${sign}${d}-${two(m)}-${seconds}`;
    case 8:
      return `${size.toFixed(11)}${letter}`;
    case 9:
      return `${d}º ${two(m)}' ${seconds}" ${letter}`;
    default:
      return `${d}d${two(m)}m${seconds}s${letter}`;
  }
};

/** Longitude and latitude in every usual writing; e and n are degrees here. */
export const DEGREES: readonly Spot[] = TRUTH.map((p, k) => ({
  e: -2.9 + (p.e - 512_340) * 1.4e-5,
  n: 51.5 + k * 1e-5,
  z: p.z,
}));

const geographic = (): Foreign[] =>
  Array.from({ length: 11 }, (_, how) => how).flatMap((how): Foreign[] => {
    const row: Row = (p, k) => [k, degrees(p.n, how, true), degrees(p.e, how, false), f3(p.z)];
    const body = (d: string): string => lines(row, d, DEGREES);
    return [
      text(`degrees ${how}`, `id;Latitude;Longitude;Height\n${body(';')}`, DEGREES),
      text(`degrees ${how}, tabs`, `id\tLat\tLon\tEllipsoidal Height (m)\n${body('\t')}`, DEGREES),
    ];
  });

/** Texts that are no survey, and surveys that lack something. */
const refused = (): Foreign[] => [
  text('empty header', 'N,E,Z\n', /no line of .*three numbers/),
  text(
    'receiver',
    '$GPGGA,101010.00,5130.0,N,00206.0,W,4,12,0.8,51.2,M,47.1,M,1.0,0000*5E\n$GPRMC,1,2,3\n',
    /NMEA.*which is not read; export/,
  ),
  text(
    'instrument words',
    '*110001+0000000000000A01 81..10+0000000512345123 82..10+0000005712345456 83..10+0000000000051234\n',
    /GSI.*not read; export/,
  ),
  text(
    'instrument records',
    '00NMSDR33 V04-04.02    \n10NMGREEN7\n08TP000151234.123\n',
    /SDR.*not read; export/,
  ),
  text(
    'field records',
    'JB,NMGREEN7,DT11-02-2025,TM10:10:10\nMO,AD0,UN1,SF1.0,EC0,EO0.0,AU0\n',
    /RW5.*not read; export/,
  ),
  text('model', 'v 1.0 2.0 3.0\nv 2.0 2.0 3.0\nv 1.0 4.0 3.0\nf 1 2 3\n', /OBJ.*not read; export/),
  text('places of the earth', '<?xml version="1.0"?><kml><Document/></kml>', /KML.*not read; /),
  text('track', '<?xml version="1.0"?><gpx version="1.1"/>', /GPX.*not read; /),
  text('web page', '<!DOCTYPE html><html><body>sign in</body></html>', /web page.*; download/),
  text('grid of other programs', 'DSAA\n2 2\n0 1\n0 1\n0 1\n1 2\n3 4\n', /DSAA.*export the grid/),
  text(
    'no height',
    `Northing,Easting\n${lines((p) => [f3(p.n), f3(p.e)])}`,
    /three numbers|height/,
  ),
  text(
    'height not named',
    `Point,Northing,Easting,A,B\n${lines((p, k) => [k, f3(p.n), f3(p.e), f3(p.z), f3(p.z + 1)])}`,
    /no column is named as the height.*--columns/,
  ),
  text(
    'a word for a number',
    `N,E,Z\n${lines((p, k) => [f3(p.n), k === 6 ? 'x12' : f3(p.e), f3(p.z)])}`,
    /line 8: "x12" in column 2 is not a number/,
  ),
  text(
    'cut off',
    `N,E,Z\n${lines((p) => [f3(p.n), f3(p.e), f3(p.z)])}\n5712300.1,512`,
    /line 14: column 3 is missing/,
  ),
  text(
    'north in feet, east in metres',
    `N (ft),E (m),Z\n${lines((p) => [f3(p.n), f3(p.e), f3(p.z)])}`,
    /different units/,
  ),
  text('a picture as text', '<svg xmlns="http://www.w3.org/2000/svg"/>', /picture.*; ask/),
  text(
    'prose',
    'Dear all,\nplease find the survey attached.\nRegards\n',
    /no line of the file holds three numbers/,
  ),
  text(
    'a very long line',
    `N,E,Z\n${lines((p) => [f3(p.n), f3(p.e), f3(p.z)])}\n${'1 '.repeat(20_000)}`,
    /line 14: the line has .* characters/,
  ),
  text('a very long number', `${'1'.repeat(30_000)},2,3\n`, /line 1/),
  text('many spaces in a name', `N${' '.repeat(9000)}E,Z\n1,2\n`, /three numbers/),
];

export const foreignTexts = (): Foreign[] => [
  ...named(),
  ...withUnits(),
  ...untidy(),
  ...rich(),
  ...orders(),
  ...geographic(),
  ...refused(),
];
