/** Where in the user's input a fault lies: the file, and the line, key or cell inside it. */
export interface FaultPlace {
  readonly file?: string;
  readonly place?: string;
}

/**
 * Bad input. The command line prints `message` as one line and exits with 2; any other error is an
 * internal fault (exit 1). Say what is wrong, then what would be right.
 *
 * `new InputFault({ file: 'course.yaml', place: 'holes[3].pra' }, 'unknown key "pra"', 'did you mean "par"?')`
 */
export class InputFault extends Error {
  readonly where: FaultPlace;
  readonly problem: string;
  readonly cure: string | undefined;

  constructor(where: FaultPlace, problem: string, cure?: string) {
    const head = [where.file, where.place].filter((part) => part !== undefined).join(', ');
    super(`${head === '' ? '' : `${head}: `}${problem}${cure === undefined ? '' : `; ${cure}`}`);
    this.name = 'InputFault';
    this.where = where;
    this.problem = problem;
    this.cure = cure;
  }
}

/** Does the work; a fault in it that names no file is told with the given place. */
export const faultsAt = <T>(where: FaultPlace, work: () => T): T => {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputFault && error.where.file === undefined) {
      throw new InputFault(where, error.problem, error.cure);
    }
    throw error;
  }
};
