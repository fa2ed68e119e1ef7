import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Options, ValidateFunction } from 'ajv/dist/2020.js';

const load = createRequire(import.meta.url);

/** The schemas are ours: a test, not every start, holds them to the schema of schemas. */
const OPTIONS: Options = {
  meta: false,
  validateSchema: false,
  allErrors: true,
  verbose: true,
  strict: true,
  strictRequired: false,
  allowUnionTypes: true,
};

const compilerFor = (code: Options['code']) => {
  const { Ajv2020 } = load('ajv/dist/2020.js') as typeof import('ajv/dist/2020.js');
  return new Ajv2020({ ...OPTIONS, ...(code === undefined ? {} : { code }) });
};

/** Compiled in this run. Each schema holds one file: making the code shorter takes longer than it saves. */
const compiled = (schema: object): ValidateFunction =>
  compilerFor({ optimize: false }).compile(schema);

/** Where the build of the program leaves the code of its schemas. */
const BUILT = fileURLToPath(new URL('./schema-checks/', import.meta.url));

/** A schema's code is known by all of the schema: what was built of another is never taken for it. */
const fileOf = (schema: object): string =>
  `${createHash('sha256').update(JSON.stringify(schema)).digest('hex').slice(0, 32)}.cjs`;

/** The check of a schema that the build has compiled; null where there is none, as among the sources. */
const built = (schema: object, folder: string): ValidateFunction | null => {
  try {
    return load(join(folder, fileOf(schema))) as ValidateFunction;
  } catch {
    return null;
  }
};

/** The check of a value against a JSON Schema (draft 2020-12). The compiler of schemas is loaded only where it has to be. */
export const schemaCheck = (schema: object, folder = BUILT): ValidateFunction =>
  built(schema, folder) ?? compiled(schema);

/** Compiles schemas ahead: a file of code for each. */
export const buildSchemaChecks = (schemas: readonly object[], folder = BUILT): void => {
  const { default: codeOf } = load(
    'ajv/dist/standalone/index.js',
  ) as typeof import('ajv/dist/standalone/index.js');
  mkdirSync(folder, { recursive: true });
  for (const schema of schemas) {
    const compiler = compilerFor({ source: true });
    writeFileSync(join(folder, fileOf(schema)), codeOf(compiler, compiler.compile(schema)));
  }
};
