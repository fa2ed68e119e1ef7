import { plainWords } from './fault.js';
import { MESSAGE_LIMITS } from './input-limits.js';

const MEMORY_FULL = ['the memory is full', 'close other programs'] as const;

/** What a machine may refuse, by the system's code (POSIX errno): the cause, and what helps. */
const CAUSES: Readonly<Record<string, readonly [cause: string, cure: string]>> = {
  ENOSPC: ['the disk is full', 'make room, then run it again'],
  EDQUOT: ['the quota of the disk is used up', 'make room, then run it again'],
  EACCES: ['no permission', 'check the rights of the file and of its folder'],
  EPERM: ['the system does not permit it', 'check the rights of the file and of its folder'],
  EROFS: ['the disk is read-only', 'name a place that can be written'],
  EISDIR: ['a folder stands where a file should be', 'move it, or name another place'],
  ENOTDIR: ['a file stands where a folder should be', 'move it, or name another place'],
  EEXIST: ['a file stands where a folder should be', 'move it, or name another place'],
  ENOTEMPTY: ['a folder stands where a file should be', 'move it, or name another place'],
  EFBIG: ['the file is too large for the system', 'raise the limit, or name another place'],
  ERR_FS_FILE_TOO_LARGE: ['the file is too large to be read', 'cut it down to what is needed'],
  ENAMETOOLONG: ['the name is too long for the system', 'choose a shorter one'],
  ELOOP: ['links lead in a circle', 'mend them'],
  EMFILE: ['too many files are open', 'raise the limit of open files'],
  ENFILE: ['too many files are open', 'close other programs'],
  ENOMEM: MEMORY_FULL,
  ERR_WORKER_OUT_OF_MEMORY: MEMORY_FULL,
  EIO: ['the disk fails to read or write', 'check it'],
  EBUSY: ['the file is in use', 'close what uses it'],
  ETXTBSY: ['the file is in use', 'close what uses it'],
  ENXIO: ['there is no such device', 'name a file'],
  EADDRINUSE: ['the port is taken', 'name another by --port'],
  ENOENT: ['it is gone, or its folder is', 'check the name'],
};

/** One line on a fault of the machine, with the path and the cause; null for any other error. */
export const machineFault = (error: unknown): string | null => {
  if (!(error instanceof Error)) return null;
  const { code, path, syscall } = error as NodeJS.ErrnoException;
  if (syscall === 'uv_cwd') return 'the working folder is gone; go to one that is there';
  const isMemory = error instanceof RangeError && /allocat/.test(error.message);
  const words = isMemory ? MEMORY_FULL : code === undefined ? undefined : CAUSES[code];
  if (words === undefined) return null;
  const where = path === undefined ? '' : `${plainWords(String(path), MESSAGE_LIMITS.file)}: `;
  return `${where}${words[0]}; ${words[1]}`;
};

/** Tells a system's error what it was about, where the system does not say so itself. */
export const withPath = (error: unknown, path: string): unknown =>
  error instanceof Error && 'code' in error && !('path' in error)
    ? Object.assign(error, { path })
    : error;
