/** Compiles the solver's kernel and writes it into the source as base64; run by `npm run kernel`. */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { compileKernel } from './compileKernel.ts';

const target = new URL('../../src/solve/kernel/kernelBytes.ts', import.meta.url);
const bytes = await compileKernel(
  fileURLToPath(new URL('../../src/solve/kernel/kernel.as.ts', import.meta.url)),
);
const base64 = Buffer.from(bytes).toString('base64');
const lines = base64.match(/.{1,100}/g)!.map((line) => `  '${line}'`);
writeFileSync(
  target,
  `/** WebAssembly of kernel.as.ts, made by \`npm run kernel\`; do not edit. */\nexport const KERNEL_BASE64 = [\n${lines.join(',\n')},\n].join('');\n`,
);
