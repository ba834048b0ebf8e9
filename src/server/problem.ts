/**
 * Errors as HTTP tells them: problem details (RFC 9457), one sentence a fault, never a stack.
 *
 * `type` leads to the page that explains the code; `errors` has one entry for each fault with the dotted path
 * of the field and the JSON pointer to it (RFC 6901).
 */
import type { ErrorRequestHandler, Response } from 'express';
import { ERROR_TABLE, type ErrorCode, type Fault, GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { Busy } from './busy.ts';

export const PROBLEM_TYPE = 'application/problem+json';

/** Codes that only HTTP has, beside those of `errors.ts`. */
export type HttpCode = 'NO_SUCH_ADDRESS' | 'METHOD' | 'MEDIA_TYPE' | 'TOO_MANY' | 'REFUSED' | 'FAULT';

export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly code: ErrorCode | HttpCode;
  readonly errors: readonly { readonly path: string; readonly pointer: string; readonly detail: string }[];
}

const HTTP_STATUS: Readonly<Record<HttpCode, number>> = {
  NO_SUCH_ADDRESS: 404,
  METHOD: 405,
  MEDIA_TYPE: 415,
  TOO_MANY: 429,
  REFUSED: 403,
  FAULT: 500,
};

/** Every code there is. */
export const PROBLEM_CODES: readonly string[] = [...Object.keys(ERROR_TABLE), ...Object.keys(HTTP_STATUS)];

/** An error that only HTTP knows. */
export class HttpError extends Error {
  readonly code: HttpCode;
  /** Another status than the code's own, for the few that HTTP tells apart. */
  readonly status: number;

  constructor(code: HttpCode, message: string, status: number = HTTP_STATUS[code]) {
    super(message);
    this.name = 'HttpError';
    this.code = code;
    this.status = status;
  }
}

/** `plan.vertices.2.x` → `#/plan/vertices/2/x` */
const pointer = (path: string): string =>
  path === ''
    ? '#'
    : `#/${path
        .split('.')
        .map((part) => encodeURIComponent(part.replaceAll('~', '~0').replaceAll('/', '~1')))
        .join('/')}`;

const problem = (code: ErrorCode | HttpCode, status: number, faults: readonly Fault[]): Problem => ({
  type: `/problems.html#${code}`,
  title: words().messages.server.titles[code],
  status,
  detail: faults.map((fault) => fault.message).join('\n'),
  code,
  errors: faults.map(({ path, message }) => ({ path, pointer: pointer(path), detail: message })),
});

/** The problem an error is. Anything that is not one of ours, or of the body reader's, is a fault of the program. */
export function problemOf(error: unknown): Problem {
  if (error instanceof GatherpanError) return problem(error.code, ERROR_TABLE[error.code].http, error.faults);
  if (error instanceof HttpError) {
    return problem(error.code, error.status, [{ path: '', message: error.message }]);
  }
  const known = fromExpress(error);
  if (known !== null) return known;
  return problem('FAULT', 500, [{ path: '', message: words().messages.server.fault }]);
}

/** What express and its body reader refuse by themselves. */
function fromExpress(error: unknown): Problem | null {
  const { type, status } = (error ?? {}) as { type?: unknown; status?: unknown };
  const said = words().messages.server;
  const one = (code: ErrorCode | HttpCode, http: number, message: string): Problem =>
    problem(code, http, [{ path: '', message }]);
  switch (type) {
    case 'entity.too.large':
      return one('TOO_LARGE', 413, said.requestTooLarge);
    case 'encoding.unsupported':
      return one('MEDIA_TYPE', 415, said.compressed);
    case 'request.aborted':
      return one('CANCELLED', 499, said.clientGone);
    case 'request.size.invalid':
      return one('BAD_INPUT', 400, said.wrongLength);
  }
  // A path with a broken escape, and the like.
  if (status === 400) return one('BAD_INPUT', 400, said.malformed);
  if (status === 404) return one('NO_SUCH_ADDRESS', 404, said.noSuchAddress);
  return null;
}

/** A problem document as it is sent. */
export const problemBody = (found: Problem): Buffer => Buffer.from(JSON.stringify(found));

/**
 * Sends a problem, unless the answer has begun: then the connection is cut, so that nobody takes it for whole.
 *
 * @param retryAfter seconds until there is likely to be room, for those that are worth trying again
 */
export function sendProblem(response: Response, found: Problem, retryAfter?: number): void {
  if (response.headersSent) {
    response.destroy();
    return;
  }
  if (retryAfter !== undefined) response.set('Retry-After', String(retryAfter));
  response
    .status(found.status)
    .set('Content-Type', PROBLEM_TYPE)
    .set('Cache-Control', 'no-store')
    .send(problemBody(found));
}

/**
 * The last middleware.
 *
 * @param fault told of every error that is a fault of the program
 */
export function problemHandler(fault: (error: unknown) => void): ErrorRequestHandler {
  // Express knows an error handler by its four parameters.
  return (error, _request, response, _next) => {
    const found = problemOf(error);
    if (found.code === 'FAULT') fault(error);
    sendProblem(response, found, error instanceof Busy ? error.retryAfter : undefined);
  };
}
