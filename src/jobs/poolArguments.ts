/**
 * How Node starts the threads of a pool. Piscina tries to require a thread's file before it imports it, and where
 * modules can be required, Node crashes when the thread is ended meanwhile: by a command that is stopped as it starts.
 */
export const poolArguments = (): { execArgv?: string[] } =>
  process.features.require_module ? { execArgv: ['--no-experimental-require-module'] } : {};
