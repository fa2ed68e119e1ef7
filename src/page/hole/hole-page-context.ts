import type { HoleFigures } from '../../course/hole-figures.js';
import type { PageContext } from '../kit/page-modules.js';

/** What the modules of a hole's page may look at. */
export interface HolePageContext extends PageContext {
  readonly hole: HoleFigures;
}
