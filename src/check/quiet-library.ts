/**
 * Does work without what a library says on the way: the PDF library warns on stderr of what it passes over, in words for
 * its authors. What is wrong with a file is told by what is read of it.
 */
export const quietly = async <T>(work: () => Promise<T>): Promise<T> => {
  const { warn } = console;
  console.warn = () => {};
  try {
    return await work();
  } finally {
    console.warn = warn;
  }
};
