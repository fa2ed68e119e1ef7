/** Units, places on a green, speeds and what a survey is worth: words of many pages. */
export const COMMON_WORDS = {
  'number.point': '.',

  'unit.m': 'm',
  'unit.cm': 'cm',
  'unit.mm': 'mm',
  'unit.yd': 'yd',
  'unit.ft': 'ft',
  'unit.in': 'in',
  'unit.metres': 'metres',
  'unit.yards': 'yards',
  'unit.feet': 'feet',
  'unit.centimetres': 'centimetres',
  'unit.inches': 'inches',

  'speed.metric': 'speed {speed} m, pace {past} cm past',
  'speed.imperial': 'speed {speed} ft, pace {past} in past',

  'place.left': '{on} on, {in} from left',
  'place.right': '{on} on, {in} from right',
  'place.more': 'and {count} more, as drawn',

  'worth.tables-short': 'tables',
  'worth.arrows-short': 'arrows only',
  'worth.outline-short': 'outline only',
  'worth.tables': 'fit for break tables',
  'worth.arrows': 'fit for fall arrows only',
  'worth.outline': 'fit for the outline only',
  'worth.survey': 'survey {worth}',
  'worth.survey-short': 'survey: {worth}',
  'worth.overruled': 'printed as {worth}, not by its survey: {why}',
  'worth.overruled-short': '{worth}, not by its survey',
  'worth.no-putts-here': 'No putts to this hole location: it lies on ground that was not surveyed.',
  'worth.no-putts': 'No putts of this green: it is {worth}.',
  'worth.file-says': 'The course file says so: {why}.',
  'worth.run-told': 'How it was read and what else was found: see what the run told.',
  'worth.mend': 'A survey that would mend it: {list}.',
} as const;
