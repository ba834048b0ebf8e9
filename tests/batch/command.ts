/** The command as a process of its own. */
import { spawn } from 'node:child_process';
import { COMMAND } from './batches.ts';

export interface Ended {
  readonly exit: number | null;
  readonly out: string;
  readonly error: string;
}

/** @param until is called again and again; the process gets SIGINT once it is true */
export function command(
  folder: string,
  argv: readonly string[],
  until?: () => Promise<boolean>,
): Promise<Ended> {
  const child = spawn(process.execPath, [COMMAND, ...argv], { cwd: folder });
  let out = '';
  let error = '';
  child.stdout.on('data', (part: Buffer) => {
    out += part.toString();
  });
  child.stderr.on('data', (part: Buffer) => {
    error += part.toString();
  });
  const look = setInterval(async () => {
    if (until !== undefined && (await until())) {
      clearInterval(look);
      child.kill('SIGINT');
    }
  }, 30);
  return new Promise((resolve) =>
    child.on('close', (exit) => {
      clearInterval(look);
      resolve({ exit, out, error });
    }),
  );
}
