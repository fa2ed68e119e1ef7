/** Pages and lines of notes. */
export const NOTE_WORDS = {
  'notes.title': 'Notes',
  'notes.of-hole': '{number} {name}: notes',
  'notes.by': 'Notes by {name}',
  'notes.marks': 'Marks of the notes',
  'notes.marks-by': 'Marks by {name}',
  'notes.putts': 'Putts of the notes',
  'notes.blank':
    'Left blank: under Model Local Rule G-11 notes are written in by hand, from experience, observation or feel.',
  'notes.more-there': 'and {count} more: see the page of notes',
  'notes.more': 'and {count} more that were found: see what the run told',

  'played.left': '{on} on, {in} left',
  'played.right': '{on} on, {in} right',
  'played.putt': '{from} to {hole}',
  'played.found': '{putt}: {compared}',
  'played.held': '{aim} held; book {book}',
  'played.none': '{aim} held; book none, {why}',
  'played.within': '{aim} held; book {book} ± {doubt}, within',
  'played.outside': '{aim} held; book {book} ± {doubt}, outside',
  'played.mark': '{aim}, book {book}',
  'played.unfit': 'the survey is not fit for break tables',
  'played.bare': 'its way was not surveyed',
  'played.face': 'it crosses a face that the survey does not tell',
  'played.no-pace': 'no pace holds it at this speed',
} as const;
