/** The words of a page's drawing as SVG, in no order: every text is labelled with what it says. */
export const wordsOfSvg = (svg: string): string[] =>
  [...svg.matchAll(/<g role="img" aria-label="([^"]*)"/g)]
    .flatMap(([, label]) => label.split(/\s+/))
    .map((word) =>
      word
        .replace(/&quot;/g, '"')
        .replace(/&lt;/g, '<')
        .replace(/&gt;/g, '>')
        .replace(/&amp;/g, '&'),
    )
    .filter((word) => word !== '')
    .sort();

/** Words of extracted text, in no order. */
export const wordsOfText = (text: string): string[] =>
  text
    .split(/\s+/)
    .filter((word) => word !== '')
    .sort();
