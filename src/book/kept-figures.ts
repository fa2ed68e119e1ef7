import type { Course } from '../course/course.js';
import { courseFigures } from '../course/course-figures.js';
import type { GroundModel } from '../course/ground.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { type Cache, keep, recall } from './cache.js';
import { figuresKey } from './cache-keys.js';

/** Figures as they are kept: what the map holds is told by its place there, so that it is in memory once. */
interface FiguresInShort {
  readonly figures: readonly (Omit<HoleFigures, 'features'> & {
    readonly features: readonly number[];
  })[];
  readonly notes: readonly string[];
}

/** The figures of a course's holes, and what the reader of its ground model had to assume. */
export interface FiguresOfCourse {
  readonly figures: HoleFigures[];
  readonly notes: readonly string[];
}

/** Null where a feature is none of the map's. */
const inShort = (
  { figures, notes }: FiguresOfCourse,
  { map: { features: all } }: Course,
): FiguresInShort | null => {
  const places = new Map(all.map((feature, i) => [feature, i]));
  const short = figures.map((hole) => ({
    ...hole,
    features: hole.features.map((feature) => places.get(feature) ?? -1),
  }));
  return short.every(({ features }) => !features.includes(-1)) ? { figures: short, notes } : null;
};

/**
 * The figures of a course's holes as an earlier run has made them, from the same map, holes and ground; made where that is not kept.
 *
 * @param ground reads the ground model, or gives it; not asked for where the figures are kept.
 * @throws InputFault where the ground model is damaged or of another place.
 */
export const keptFigures = async (
  cache: Cache,
  course: Course,
  ground: () => Promise<GroundModel | null>,
): Promise<FiguresOfCourse> => {
  const key = figuresKey(course);
  const before = recall<FiguresInShort>(cache, 'figures', key);
  if (before !== null) {
    const { features: all } = course.map;
    const figures = before.figures.map((hole) => ({
      ...hole,
      features: hole.features.map((place) => all[place]),
    }));
    return { figures, notes: before.notes };
  }
  const model = await ground();
  const made = { figures: courseFigures(course, model), notes: model?.notes ?? [] };
  const short = inShort(made, course);
  if (short !== null) keep(cache, 'figures', key, short);
  return made;
};
