import { chmodSync } from 'node:fs';

/** npm links the bin as it is; the compiler writes it without the execute bit. */
chmodSync(new URL('./main.js', import.meta.url), 0o755);
