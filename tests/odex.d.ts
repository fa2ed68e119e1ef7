/** The part of odex (npm) that the tests use; the package ships its source, which strict checks refuse. */
declare module 'odex' {
  type Derivative = (x: number, y: number[]) => number[];
  interface Solution {
    readonly y: number[];
    readonly outcome: number;
    readonly nStep: number;
    readonly nEval: number;
  }
  interface Solver {
    maxSteps: number;
    initialStepSize: number;
    maxStepSize: number;
    denseOutput: boolean;
    relativeTolerance: number | number[];
    absoluteTolerance: number | number[];
    solve(
      derivative: Derivative,
      from: number,
      start: number[],
      to: number,
      output?: (
        step: number,
        last: number,
        x: number,
        y: number[],
        dense: (component: number, x: number) => number,
      ) => boolean | undefined,
    ): Solution;
  }
  const odex: { readonly Solver: new (dimension: number) => Solver };
  export default odex;
}
