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

/** Texts of points that were read wrong or refused unclearly when they were first tried. */

const ne: Row = (p, k) => [`T${k}`, f3(p.n), f3(p.e), f3(p.z)];
const en: Row = (p, k) => [`T${k}`, f3(p.e), f3(p.n), f3(p.z)];
const per =
  (unit: number): Row =>
  (p, k) => [k, (p.n / unit).toFixed(5), (p.e / unit).toFixed(5), (p.z / unit).toFixed(5)];
const under = (header: string, row: Row, d = ','): string => `${header}\n${lines(row, d)}`;
const OTHER_SIGNS = /line \d: ".*": the numbers stand among other signs; one point a line/;

const wordings = (): Foreign[] =>
  (
    [
      'Piste;Pohjoiskoordinaatti;Itäkoordinaatti;Korkeus',
      'Punkt;Nordkoordinat;Østkoordinat;Kote',
      'Punkt;Nordlig koordinat;Östlig koordinat;Höjd',
      'Punktur;Norður;Austur;Hæð',
      'Тачка;Север;Исток;Висина',
      'Точка;Север;Изток;Кота',
      'Pwynt;Gogledd;Dwyrain;Uchder',
      'Punt;Noord;Oos;Hoogte',
      'Pika;Veri;Lindje;Lartësia',
      'Pnr;HW;RW;NN',
    ] as const
  ).map((header) => text(`wording ${header}`, under(header, ne, ';')));

const digits = (content: string, zero: number): string =>
  content.replace(/\d/g, (digit) => String.fromCharCode(zero + Number(digit)));

const signs = (): Foreign[] => [
  text('digits of another script', digits(under('Pt;N;E;Z', ne, ';'), 0x660).replaceAll('T', '')),
  text('wide digits', digits(under('Pt;N;E;Z', ne, ';'), 0xff10)),
  text('wide commas', under('点号，北，东，高程', ne, '，')),
  text('wide semicolons', under('点号；北；东；高程', ne, '；')),
  text('lines that end in a semicolon', `${lines(en, ' ').replaceAll('\n', ';\n')};`, TRUTH, {
    window: WINDOW,
  }),
  text(
    'in brackets',
    lines((p) => [`(${f3(p.e)}`, f3(p.n), `${f3(p.z)})`], ', '),
    OTHER_SIGNS,
  ),
  text(
    'under a title in brackets',
    `a b\n${lines((p) => [`[${f3(p.e)}`, `${f3(p.n)}]`], '/')}`,
    /line 2: "\[.*other signs/,
  ),
  text('tildes', lines(ne, '~'), OTHER_SIGNS),
];

const order = (): Foreign[] => [
  text('word for the order', `PNEZD (comma delimited)\n${lines((p, k) => [...ne(p, k), 'g'])}`),
  text('word for the other order', `Format: PENZ\n${lines(en)}`),
  text(
    'code between number and position',
    lines((p, k) => [k, 'GR', f3(p.n), f3(p.e), f3(p.z)]),
    TRUTH,
    {
      window: WINDOW,
    },
  ),
  text('R H Z', under('Pnr R H Z', en, ' ')),
  text('R H and a height in words', under('Pnr;R;H;Höhe', en, ';')),
  text(
    'sigmas by their sign',
    under('Pt;N;E;H;σN;σE;σH', (p, k) => [...ne(p, k), 0.01, 0.01, 0.02], ';'),
    TRUTH,
    {
      sigma: TRUTH.map(() => 0.02),
    },
  ),
  text(
    'depth',
    under('N,E,Depth', (p) => [f3(p.n), f3(p.e), '0.35']),
    /the height.*--columns/,
  ),
  text(
    'averages below',
    `${under('Pt,N,E,H', ne)}\nAverage,5712300,512345,51.7\nMin,5712300,512340,50.1`,
  ),
  text('Y and X by the map', under('Pt,Y [m],X [m],H', en), TRUTH, { window: WINDOW }),
  text('Y and X alone', under('Pt,Y [m],X [m],H', en), /some countries call north x.*--columns/),
];

const units = (): Foreign[] => [
  text('units under a word', `Pt,N,E,Elev\nname,sFt,sFt,sFt\n${lines(per(US))}`),
  text('unit before the name', under('pt,ft_north,ft_east,ft_elev', per(FEET))),
  text(
    'feet and inches',
    under('N,E,Z', (p) => [f3(p.n), f3(p.e), `${Math.floor(p.z)}'-6"`]),
    OTHER_SIGNS,
  ),
];

/** 51 deg 33 min 40.5 sec N. */
const inWords = (value: number, isLatitude: boolean): string =>
  degrees(value, 10, isLatitude).replace('d', ' deg ').replace('m', ' min ').replace('s', ' sec ');

const turned = (header: string, row: Row, d = ','): string =>
  `${header}\n${lines(row, d, DEGREES)}`;

const angles = (): Foreign[] => [
  text(
    'degrees in words',
    turned('Pt;Lat;Lon;H', (p, k) => [k, inWords(p.n, true), inWords(p.e, false), f3(p.z)], ';'),
    DEGREES,
  ),
  text(
    'degrees with commas',
    turned(
      'Pt;Breite;Länge;Höhe',
      (p, k) => [
        k,
        ...[degrees(p.n, 1, true), degrees(p.e, 1, false), f3(p.z)].map((v) => v.replace('.', ',')),
      ],
      ';',
    ),
    DEGREES,
  ),
  text(
    'degrees by their long names',
    turned(
      'Pt;Breitengrad;Längengrad;Höhe',
      (p, k) => [k, p.n.toFixed(11), p.e.toFixed(11), f3(p.z)],
      ';',
    ),
    DEGREES,
  ),
  text(
    'counted to the west',
    turned('Pt,Latitude,West Longitude,H', (p, k) => [
      k,
      p.n.toFixed(11),
      (-p.e).toFixed(11),
      f3(p.z),
    ]),
    /"West Longitude" counts degrees to the west/,
  ),
  text(
    'letters in columns of their own',
    turned('Pt,Lat,NS,Lon,EW,H', (p, k) => [
      k,
      p.n.toFixed(11),
      'N',
      (-p.e).toFixed(11),
      'W',
      f3(p.z),
    ]),
    /letters W and S stand in columns of their own/,
  ),
  text(
    'minutes packed',
    turned('Lat (DDMM.mmmm),N/S,Lon (DDDMM.mmmm),E/W,Alt', (p) => [
      5130.123,
      'N',
      '00249.1',
      'W',
      f3(p.z),
    ]),
    /degrees and minutes are packed into one number/,
  ),
];

export const foreignManners = (): Foreign[] => [
  ...wordings(),
  ...signs(),
  ...order(),
  ...units(),
  ...angles(),
];
