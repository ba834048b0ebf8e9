#!/usr/bin/env node
/**
 * Where the command begins: what makes Node start quickly has to be said before the program is loaded.
 *
 * Node's compile cache (from 22.1) keeps what the program is compiled to, in the system's folder for temporary files.
 * Node 20 optimises functions so early that in a process that solves one tray it costs more than it gives back; later
 * versions wait longer by themselves. Commands that go on for long are left as they are.
 */
import * as module from 'node:module';
import { setFlagsFromString } from 'node:v8';

const LONG = ['batch', 'layout', 'serve', 'worker'];
/** Bytes of bytecode that a function has run before it is optimised; Node 20 has 67,584. */
const BUDGET = 1_000_000;

(module as { enableCompileCache?: () => void }).enableCompileCache?.();
if (process.versions.node.startsWith('20.') && !LONG.includes(process.argv[2] ?? ''))
  setFlagsFromString(`--interrupt-budget=${BUDGET}`);
await import('./main.ts');
