import { type FaultPlace, InputFault } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';

/** A text in quotes, to its end or the end of all, what leads from it to another, or anything else. */
const PACKED = /"((?:[^"\\]+|\\.)*)(?:"|\\?$)|=>|[^"=]+|=/gsy;

/** Tags in one text, as GDAL's driver for OpenStreetMap writes those that have no column: "golf"=>"green","ref"=>"7". */
const packedTags = (text: string): Record<string, string> => {
  const parts = [...text.matchAll(PACKED)];
  const bare = (part: string): string => part.replace(/\\(.)/gs, '$1');
  return Object.fromEntries(
    parts.flatMap(([sign], i) => {
      const [key, value] = [parts[i - 1]?.[1], parts[i + 1]?.[1]];
      const isPair = sign === '=>' && key !== undefined && value !== undefined;
      return isPair ? [[bare(key), bare(value)]] : [];
    }),
  );
};

/**
 * What names a feature is as long as OpenStreetMap allows at most (its API v0.6: 255 characters), so that no pattern
 * meets more.
 *
 * @throws InputFault at a longer one.
 */
export const refuseLongNames = (
  tags: Readonly<Record<string, string>>,
  where: FaultPlace,
): void => {
  for (const key of ['name', 'ref', 'tee']) {
    const length = tags[key]?.length ?? 0;
    if (length <= INPUT_LIMITS.mapName) continue;
    throw new InputFault(
      where,
      `its ${key} has ${length} characters`,
      `a map's ${key} has ${INPUT_LIMITS.mapName} at most`,
    );
  }
};

/** The tags of a feature, wherever its writer keeps them. */
export const tagsOf = (properties: unknown): Record<string, string> => {
  const { tags: nested, other_tags: packed } = (properties ?? {}) as {
    tags?: unknown;
    other_tags?: unknown;
  };
  const tags: Record<string, string> = typeof packed === 'string' ? packedTags(packed) : {};
  const source = typeof nested === 'object' && nested !== null ? nested : properties;
  for (const [key, value] of Object.entries(source ?? {})) {
    if (typeof value === 'string' || typeof value === 'number') tags[key] = String(value);
  }
  return tags;
};
