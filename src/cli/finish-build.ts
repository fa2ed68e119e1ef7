// What a build does once the code is compiled, so that no run has to: importing the readers makes their schemas known.
import { chmodSync } from 'node:fs';
import '../course/course-file.js';
import '../event/notes-file.js';
import '../event/rolls-file.js';
import '../layout/load-layout.js';
import '../page/words/read-words.js';
import { buildCodeDigests } from '../book/cache-keys.js';
import { schemasOfReaders } from '../checked-yaml.js';
import { buildSchemaChecks } from '../schema-check.js';

/** npm links the bin as it is; the compiler writes it without the execute bit. */
chmodSync(new URL('./main.js', import.meta.url), 0o755);
buildSchemaChecks(schemasOfReaders());
buildCodeDigests();
