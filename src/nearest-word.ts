import leven from 'leven';

/** The known word that a misspelt one most likely means; undefined when none is near. */
export const nearestWord = (word: string, known: readonly string[]): string | undefined => {
  const ranked = known
    .map((one) => ({ one, off: leven(word.toLowerCase(), one.toLowerCase()) }))
    .sort((a, b) => a.off - b.off);
  return ranked.length > 0 && ranked[0].off <= Math.max(2, word.length / 3)
    ? ranked[0].one
    : undefined;
};
