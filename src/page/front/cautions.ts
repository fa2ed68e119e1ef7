/**
 * What must be said of a book's use. Source of the limits: Clarification of Rule 4.3a on green-reading
 * materials and Model Local Rule G-11 (The R&A and USGA); see also print/rules-check.
 */
export const CAUTIONS = {
  use: {
    practice: 'For practice only: this edition breaks a limit for play under Rule 4.3a.',
    play: 'Made to the limits of Rule 4.3a on green-reading material. Whether it may be carried is the Committee’s decision under the Rules in force.',
    committee:
      'Committee edition under Model Local Rule G-11: no measured green-reading detail. The Committee decides what may be carried.',
  },
  aid: 'This book is an aid to practice and planning. Whether it may be carried in a competition is the Committee’s decision under the Rules in force: ask before the round.',
  notModelled:
    'Not modelled: the skid before the ball rolls, grain, firmness, wind and wear. The ground is as it was surveyed.',
} as const;
