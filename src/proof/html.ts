/** Text as it may stand in HTML, also between quotes. */
export const escaped = (text: string): string =>
  text.replace(
    /[&<>"']/g,
    (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c]!,
  );

/** The frame of every document of the proof. */
export const documentOf = (title: string, sheets: readonly string[], body: string): string =>
  [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escaped(title)}</title>`,
    '<link rel="icon" href="data:,">',
    ...sheets.map((href) => `<link rel="stylesheet" href="${escaped(href)}">`),
    '</head>',
    body,
    '</html>',
    '',
  ].join('\n');
