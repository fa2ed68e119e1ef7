import type { PDFRawStream } from 'pdf-lib';
import type { PathStep } from '../page/marks/marks.js';
import type { GraphicsState } from './graphics-state.js';
import type { Operand } from './pdf-operators.js';
import type { ShownText } from './shown-text.js';

/** What is told of a page's content as it runs; everything in the page's own space, points. */
export interface ContentSink {
  readonly paint: (
    steps: readonly PathStep[],
    painted: { readonly fill: boolean; readonly stroke: boolean; readonly evenOdd: boolean },
    state: Readonly<GraphicsState>,
  ) => void;
  readonly text: (shown: ShownText, state: Readonly<GraphicsState>) => void;
  readonly image: (columns: number, rows: number, state: Readonly<GraphicsState>) => void;
  /** A form is about to be placed. */
  readonly form: (state: Readonly<GraphicsState>) => void;
  /** Whether what a form draws has been told already, so that it need not run; asked of the forms that a page places itself. */
  readonly isTold?: (form: PDFRawStream, state: Readonly<GraphicsState>) => boolean;
  readonly open: (tag: string, properties: ReadonlyMap<string, Operand>) => void;
  readonly close: () => void;
  readonly transparent: (why: string) => void;
}
