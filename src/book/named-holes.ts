import type { Course } from '../course/course.js';
import { numberedName } from '../course/hole-numbers.js';
import { plainHoleName } from '../page/words/hole-name.js';
import type { Worded } from '../page/words/words.js';

/** A course whose holes without names of their own are called as its book's language does: "Hole 7". */
export const namedIn = (course: Course, tell: Worded): Course =>
  tell.words === undefined
    ? course
    : {
        ...course,
        holes: course.holes.map((hole) =>
          hole.name === numberedName(hole.id)
            ? { ...hole, name: plainHoleName(hole.id, tell) }
            : hole,
        ),
      };
