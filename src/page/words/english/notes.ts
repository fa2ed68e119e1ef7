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
} as const;
