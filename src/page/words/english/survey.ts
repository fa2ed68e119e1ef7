/** The page of surveys. */
export const SURVEY_WORDS = {
  'surveys.title': 'What the surveys are worth',
  'surveys.points': 'points',
  'surveys.apart': 'apart',
  'surveys.noise': 'noise',
  'surveys.covered': 'covered',
  'surveys.doubtful': '~ aims',
  'surveys.worth': 'worth',
  'surveys.kind-points': 'points',
  'surveys.by-hand': 'by hand, in paces',
  'surveys.kind-grid': 'a grid',
  'surveys.kind-tin': 'a triangulated surface',
  'surveys.kind-cloud': 'a point cloud',
  'surveys.all': 'All: {words}',
  'surveys.not-told': 'when and how not told',
  'surveys.error': 'error stated {error}',
  'surveys.mend': 'would mend it: {list}',
  'surveys.overruled': '* the course file: {why}; the survey is {worth}.',
  'surveys.none': '{holes}: no survey; the outline from the map',
  'surveys.key':
    'Apart: from a point to its nearest neighbour. Noise: of one height, as its neighbours show it. Covered: ground near enough to a point. ~ aims: not known to half a hole.',
  'surveys.more': 'no room for more: the run that made this book told all of it',
} as const;
