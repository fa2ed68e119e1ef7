/** Cover, what is said of a book's use, how to read, card and conversions. */
export const FRONT_WORDS = {
  'cover.green': '1 green',
  'cover.greens': '{count} greens',
  'cover.committee': '{greens}: outline, tiers, faces and false fronts',
  'cover.tables': '{greens}: slope, fall, drainage and putts',
  'cover.arrows': '{greens}: slope, fall and drainage',
  'cover.outlines': '{greens} from the map: outline and paces, fall to be drawn',
  'cover.one-scale': 'All greens are drawn at this scale.',
  'cover.at-scale': '{holes} at 1:{scale}',
  'cover.smaller': 'Smaller: {list}.',
  'cover.smaller-short': 'Large greens are drawn smaller.',
  'cover.heights': 'Figure at a point: height above the lowest, in {unit}.',
  'cover.drainage': 'Heavy line: main drainage.',
  'cover.alike': 'In tint: one of many alike.',
  'cover.shares': '% at a mouth: how likely most water leaves there.',
  'cover.fall': 'Arrow: downhill; longer: steeper.',
  'cover.putt-signs': 'Dots: putts run straight. Square: best leave of an approach.',

  'use.practice': 'For practice only: this edition breaks a limit for play under Rule 4.3a.',
  'use.play':
    'Made to the limits of Rule 4.3a on green-reading material. Whether it may be carried is the Committee’s decision under the Rules in force.',
  'use.committee':
    'Committee edition under Model Local Rule G-11: no measured green-reading detail. The Committee decides what may be carried.',
  'use.aid':
    'This book is an aid to practice and planning. Whether it may be carried in a competition is the Committee’s decision under the Rules in force: ask before the round.',
  'use.not-modelled':
    'Not modelled: the skid before the ball rolls, grain, firmness, wind and wear. The ground is as it was surveyed.',
  'use.practice-short': 'practice only',
  'use.play-short': 'for play where the Committee allows it',
  'use.committee-short': 'committee edition',
  'use.larger': 'for practice only: larger than Rule 4.3a allows',

  'imprint.title': 'Imprint',
  'imprint.back': 'Back cover',
  'imprint.picture': 'picture',
  'imprint.publisher': 'Published by',
  'imprint.copyright': 'Copyright',
  'imprint.edition': 'Edition',
  'imprint.surveyed': 'Greens surveyed',
  'imprint.made': 'Made on',
  'imprint.isbn': 'ISBN',
  'imprint.bar-code': 'Bar code {number}',
  'imprint.bar-code-add-on': 'Bar code {number} with {addOn} beside it',
  'imprint.price': 'Price',
  'imprint.contact': 'Contact',
  'imprint.buyer': 'Made for',
  'imprint.typefaces': 'Typefaces',
  'imprint.faces':
    'Source Sans 3, Alegreya and Playpen Sans, under the SIL Open Font License, Version 1.1',

  'read.title': 'How to read a page',
  'read.slope':
    'Grade of the ground: the heavier the tone, the steeper. The steepest carry strokes.',
  'read.fall': 'Fall: an arrow points downhill and is longer where the ground is steeper.',
  'read.drainage':
    'Main drainage line: where most of the water runs off, thin at its head and wide at its mouth. Putts across it curve toward it; putts along it hardly curve.',
  'read.turns': 'Mouths with shares take turns.',
  'read.divide': 'Divide: water falls away on both sides of it.',
  'read.contours': 'Contours every {interval}; every fifth is heavier.',
  'read.heights':
    'High point, low point, drain; the figure is the height above the lowest of them, in {unit}.',
  'read.location': 'Hole location, with its letter.',
  'read.putts':
    'Hole location, with its letter; dots: putts along them are straight; square: the best leave of an approach.',
  'read.doubt': 'Broken strokes: the survey does not know which way this ground falls.',
  'read.bare':
    'Dots in level rows on blank paper: ground that was not surveyed. No figure rests on it.',
  'read.outline':
    'A green by its outline alone: its fall is not known. Draw it from each ring, longer where steeper.',
  'read.hazards': 'Bunker and water round such a green.',
  'read.bunker': 'Bunker beside such a green.',
  'read.water': 'Water beside such a green.',
  'read.bare-way': 'ground that was not surveyed',
  'read.face-way': 'a face that the survey does not tell',
  'read.ways': ', or its way crosses {way}',
  'read.two-ways': '{one} or {other}',
  'read.quadrants':
    'Quadrants. Stand below the hole and look up its fall line: below is at your feet, above is beyond the hole, left and right are your left and right.',
  'read.aim':
    'Aim: how far beside the hole’s centre to start the ball, and on which side (L, R) seen from the ball. {units} It is the start line, not the highest point of the path.',
  'read.aim-metric': 'Centimetres, from one metre on metres.',
  'read.aim-imperial': 'Inches (″), from three feet on feet (′).',
  'read.pace-change':
    'Pace ±: picture a level putt so many {unit} longer (+) or shorter (\u2212) than the putt is.',
  'read.pace':
    'Pace: picture a level putt of this length, in {unit}. It is shorter than the putt downhill and longer uphill.',
  'read.blank':
    'A blank: the ball would stand off the green{closed}. “no pace”: no pace holds this putt. ~: the survey does not know the aim to half a hole.',
  'read.on-in':
    'On, and in from a side: paces from the front edge and from the nearer side. One pace is one yard.',
  'read.outlines':
    'Front, middle, back: paces along the line of approach. Outlines are as true as their map: pace one green before you trust them.',

  'definition.words':
    'On: paces along the line of approach from the middle of the front edge, where the line that runs through the centre of the green meets it. In: paces across that line from the nearer side, as far out as the green reaches on that level. One pace is one yard.',
  'definition.approach': 'line of approach',
  'definition.centre': 'centre',
  'definition.front': 'front',
  'definition.on': '{paces} paces on',
  'definition.in': '{paces} paces',
  'definition.left': 'left side',
  'definition.right': 'right side',
  'definition.hole': 'hole',

  'card.title': 'Card',
  'card.alt': 'Card of {title}',
  'card.hole': 'hole',
  'card.par': 'par',
  'card.index': 'index',
  'card.head': 'card, {unit}',
  'card.head-part': 'card, page {part}, {unit}',
  'card.foot': 'lengths on the ellipsoid, along the line of play, {unit}',
  'card.other-holes': 'other holes',
  'card.eighteen-1': 'first eighteen',
  'card.eighteen-2': 'second eighteen',
  'card.eighteen-3': 'third eighteen',
  'card.eighteen-4': 'fourth eighteen',
  'card.eighteen-5': 'fifth eighteen',
  'card.eighteen-6': 'sixth eighteen',
  'card.eighteen-nth': '{number}th eighteen',
  'card.out': 'out',
  'card.in': 'in',
  'card.nine-1': 'first nine',
  'card.nine-2': 'second nine',
  'card.nine-3': 'third nine',
  'card.nine-4': 'fourth nine',
  'card.nine-5': 'fifth nine',
  'card.nine-6': 'sixth nine',
  'card.nine-nth': 'nine',
  'card.total': 'total',

  'lengths.title': 'Lengths and slopes',
  'lengths.yards-head': 'yd, paces',
  'lengths.alt': 'Yards, paces and metres from {from} to {to}',
  'lengths.plays': 'Uphill plays longer, downhill shorter by',
  'lengths.rise': 'rise, {unit}',
  'lengths.descent': 'ball lands at {descent}°, {unit}',
  'lengths.ellipsoid':
    'Lengths run on the WGS 84 ellipsoid from the middle of the tee along the line of play to the middle of the green; landmarks and carries are straight. A carry is rounded up, a reach down. One pace is one yard.',
  'lengths.plays-words':
    'Plays: the length plus the rise, as for a ball that lands at 45°; with carries and drives where that makes 3 or more.',
  'lengths.wind': 'Wind, as I find it',
} as const;
