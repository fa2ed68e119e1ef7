// What a build does once the code is compiled, so that no run has to: importing the readers makes their schemas known.
import { fileURLToPath } from 'node:url';
import '../course/course-file.js';
import '../event/notes-file.js';
import '../event/rolls-file.js';
import '../layout/load-layout.js';
import '../page/words/read-words.js';
import { buildCodeDigests } from '../book/cache-keys.js';
import { schemasOfReaders } from '../checked-yaml.js';
import { buildSchemaChecks } from '../schema-check.js';
import { bundleProgram } from './bundle-program.js';

await bundleProgram(fileURLToPath(new URL('../', import.meta.url)));
buildSchemaChecks(schemasOfReaders());
buildCodeDigests();
