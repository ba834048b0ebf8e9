/** One service for all files of a worker. */
import { afterAll, expect } from 'vitest';
import { service, type TestService } from './service.ts';

let common: Promise<TestService> | undefined;

/**
 * The service for tests that ask nothing special of one; nobody stops it. A file asks for it before its tests, and after
 * them it has to be without faults.
 */
export function commonService(): Promise<TestService> {
  common ??= service();
  afterAll(async () => expect((await common!).faults).toEqual([]));
  return common;
}
