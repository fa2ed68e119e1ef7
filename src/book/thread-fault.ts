import { InputFault } from '../fault.js';

/** An error on its way out of a thread: a fault of the input, or any other; a clone would lose what the system says. */
export type ThreadFault =
  | { readonly fault: Pick<InputFault, 'where' | 'problem' | 'cure'> }
  | { readonly error: Pick<NodeJS.ErrnoException, 'message' | 'stack' | 'code' | 'path'> };

export const packFault = (error: unknown): ThreadFault => {
  if (error instanceof InputFault) {
    return { fault: { where: error.where, problem: error.problem, cure: error.cure } };
  }
  const told: NodeJS.ErrnoException = error instanceof Error ? error : new Error(String(error));
  const { message, stack, code, path } = told;
  return { error: JSON.parse(JSON.stringify({ message, stack, code, path })) };
};

export const unpackFault = (packed: ThreadFault): Error => {
  if ('fault' in packed) {
    const { where, problem, cure } = packed.fault;
    return new InputFault(where, problem, cure);
  }
  return Object.assign(new Error(packed.error.message), packed.error);
};
