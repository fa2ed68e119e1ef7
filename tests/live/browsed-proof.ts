import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium } from 'playwright-core';
import type { SmallCourse } from '../cli/small-course.js';
import type { BuiltProgram } from './built-program.js';

const BROWSER = '/usr/bin/chromium';
const ARGUMENTS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** A proof that is served, and a browser with a profile of its own to look at it. */
export interface BrowsedProof {
  readonly url: string;
  readonly browser: BrowserContext;
  close(): Promise<void>;
}

/** Serves the proof of a course in a layout and opens a browser with a window of a size. */
export const browseProof = async (
  { main }: BuiltProgram,
  { folder, out }: SmallCourse,
  layout: string,
  viewport: { readonly width: number; readonly height: number },
): Promise<BrowsedProof> => {
  const options = ['--layout', layout, '--out', out, '--port', '0', '--json'];
  const server = spawn(process.execPath, [main, 'proof', folder, ...options], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const url = await new Promise<string>((resolve, reject) => {
    let told = '';
    let said = '';
    server.stdout.on('data', (chunk) => {
      told += String(chunk);
      try {
        resolve((JSON.parse(told) as { url: string }).url);
      } catch {
        // Not whole yet.
      }
    });
    server.stderr.on('data', (chunk) => {
      said += String(chunk);
    });
    server.once('close', (code) => reject(new Error(`proof ended with ${code}: ${said}`)));
  });
  const profile = mkdtempSync(join(tmpdir(), 'runnel-profile-'));
  const browser = await chromium.launchPersistentContext(profile, {
    executablePath: BROWSER,
    args: ARGUMENTS,
    viewport,
  });
  return {
    url,
    browser,
    close: async () => {
      await browser.close();
      server.kill('SIGTERM');
      rmSync(profile, { recursive: true, force: true });
    },
  };
};
