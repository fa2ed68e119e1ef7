/** How many jobs may wait, and how long one may, milliseconds. */
export interface QueueLimits {
  readonly waiting: number;
  readonly patience: number;
}

/** Does one job; rejects only when it can do no more. */
export type Worker<J, T> = (job: J) => Promise<T>;

export interface WorkQueue<J, T> {
  readonly addWorker: (work: Worker<J, T>) => void;
  /** What a worker makes of the job; "busy" when too many wait, or it waited too long or for nobody. */
  readonly submit: (job: J, gone: AbortSignal) => Promise<T | 'busy'>;
}

interface Waiting<J, T> {
  readonly job: J;
  readonly settle: (result: Promise<T> | 'busy') => void;
}

/** Jobs in their order for workers that each do one at a time. */
export const workQueue = <J, T>({ waiting: most, patience }: QueueLimits): WorkQueue<J, T> => {
  const line: Waiting<J, T>[] = [];
  const idle: Worker<J, T>[] = [];
  const feed = (work: Worker<J, T>): void => {
    const next = line.shift();
    if (next === undefined) {
      idle.push(work);
      return;
    }
    const result = work(next.job);
    next.settle(result);
    // One that fails is not fed again.
    result.then(
      () => feed(work),
      () => {},
    );
  };
  const submit = (job: J, gone: AbortSignal): Promise<T | 'busy'> =>
    new Promise((resolve) => {
      if (idle.length === 0 && line.length >= most) {
        resolve('busy');
        return;
      }
      const leave = (): void => {
        line.splice(line.indexOf(entry), 1);
        entry.settle('busy');
      };
      const timer = setTimeout(leave, patience);
      const entry: Waiting<J, T> = {
        job,
        settle: (result) => {
          clearTimeout(timer);
          gone.removeEventListener('abort', leave);
          resolve(result);
        },
      };
      line.push(entry);
      gone.addEventListener('abort', leave);
      const work = idle.pop();
      if (work !== undefined) feed(work);
    });
  return { addWorker: feed, submit };
};
