import { ownValue } from '../../own-value.js';
import type { Section } from '../../terrain/reading.js';
import { phrase, type Worded, type WordKey } from '../words/words.js';

const KINDS = {
  tier: 'section.tier',
  face: 'section.face',
  bowl: 'section.bowl',
  shelf: 'section.shelf',
  crown: 'section.crown',
  swale: 'section.swale',
  'false front': 'section.false-front',
  'false edge': 'section.false-edge',
} as const satisfies Readonly<Record<Section['kind'], WordKey>>;

const WHERE = {
  front: 'section.at-front',
  back: 'section.at-back',
  left: 'section.at-left',
  right: 'section.at-right',
  middle: 'section.at-middle',
  'front-left': 'section.at-front-left',
  'front-right': 'section.at-front-right',
  'back-left': 'section.at-back-left',
  'back-right': 'section.at-back-right',
  lowest: 'section.lowest',
  lower: 'section.lower',
  upper: 'section.upper',
  top: 'section.top',
} as const;

/** The word for a kind of section. */
export const kindWord = (kind: Section['kind']): (typeof KINDS)[Section['kind']] => KINDS[kind];

/** The name of a section, as `terrain/sections` gives it, in the language of the page: "Upper tier", "Back bowl 2". */
export const sectionWords = ({ kind, name }: Section, tell: Worded): string => {
  const [before, after = ''] = name.split(kind);
  const what = phrase(tell, kindWord(kind));
  const where = ownValue(WHERE, before.trim());
  const named =
    where === undefined
      ? what
      : phrase(tell, 'section.named', { where: phrase(tell, where), what });
  const numbered =
    after.trim() === ''
      ? named
      : phrase(tell, 'section.numbered', { section: named, number: after.trim() });
  return numbered.charAt(0).toUpperCase() + numbered.slice(1);
};
