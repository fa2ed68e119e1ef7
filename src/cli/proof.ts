import { availableParallelism } from 'node:os';
import { InputFault } from '../fault.js';
import { assetAt, LOOPBACK } from '../proof/answers.js';
import { startServer } from '../proof/server.js';
import { printJson, say, sayInternal } from './output.js';
import { assetsOf, checkProof, type ProofArguments } from './proof-site.js';
import { openThreads } from './proof-threads.js';
import { toldGround } from './told-ground.js';
import { sayWorths, worthJson } from './worth-words.js';

export const runProof = async (args: ProofArguments): Promise<void> => {
  if (!Number.isInteger(args.port) || args.port < 0 || args.port > 65535) {
    throw new InputFault(
      { file: 'command line', place: '--port' },
      `${args.port} is no port`,
      'ports are numbered from 0 to 65535; 0 takes any that is free',
    );
  }
  const checked = checkProof(args, say);
  await toldGround(checked.course);
  const assets = assetsOf(checked);
  const { greens, answerer, close } = await openThreads(
    args,
    availableParallelism() > 1,
    sayInternal,
  );
  const { server, port } = await startServer(
    (address, gone) => assetAt(assets, address) ?? answerer(address, gone),
    args.port,
    sayInternal,
  ).catch(async (error: NodeJS.ErrnoException) => {
    await close();
    if (error.code !== 'EADDRINUSE' && error.code !== 'EACCES') throw error;
    throw new InputFault(
      { file: 'command line', place: '--port' },
      `port ${args.port} cannot be taken`,
      'name another, or 0 for any that is free',
    );
  });
  const url = `http://${LOOPBACK}:${port}/`;
  sayWorths(greens);
  if (args.json) {
    printJson({
      url,
      greens: greens.map(({ holeId, worth }) => ({ hole: holeId, ...worthJson(worth) })),
    });
  } else say(`${url}  until it is stopped (Ctrl+C)`);
  await new Promise<void>((stopped) => {
    const stop = (): void => {
      server.close(() => stopped());
      server.closeAllConnections();
    };
    process.once('SIGINT', stop);
    process.once('SIGTERM', stop);
  });
  await close();
};
