/** Invented names of holes in three scripts, with the accents of many languages. */
export const NAMES = {
  latin: [
    'Ferry Bell',
    'L’Étang à Grenouilles',
    'Żółw i Gęś',
    'Příčný Žleb',
    'Ørnens Å',
    'Þrátt í Sæ',
    'Őrség Tűz',
    'Çağıl Düş',
    'Niño Añil ¿Qué?',
    'Ţara Şesului',
    'Tŷ Ŵyn',
    'Straße Größe ẞ',
    'Đường Ẩn Ngọc',
    'Ķēniņš Ģērbs',
    'Naïve Coöp',
  ],
  greek: ['Το Ρέμα', 'Ψηλός Βράχος', 'Άνω Γέφυρα', 'Μακρύ Νησί'],
  cyrillic: [
    'Долгий Брод',
    'Ёлочный Объезд',
    'Їжакова Ґрунтівка',
    'Ўсход',
    'Ђурђев Њасак',
    'Љубић',
  ],
} as const;

/** Greek with the old accents; the hand of the notes has only the new ones. */
export const OLD_GREEK = ['Ἄκρα ἡ Ὑψηλή', 'Ῥεῦμα', 'ᾠδή'] as const;
