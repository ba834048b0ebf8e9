/** What keeps the service safe beside its limits: headers, rate, and who may ask. */
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { RequestHandler } from 'express';
import { rateLimit } from 'express-rate-limit';
import helmet from 'helmet';
import { words } from '../words/language.ts';
import { HttpError, problemOf, sendProblem } from './problem.ts';

/** The page loads nothing from any other host and runs no inline code. */
const protect = helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'none'"],
      // The solver is WebAssembly, in threads of the page.
      scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
      workerSrc: ["'self'"],
      styleSrc: ["'self'"],
      // Pictures of the blank come as SVG and are shown as images, in which no script runs.
      imgSrc: ["'self'", 'blob:'],
      connectSrc: ["'self'"],
      formAction: ["'self'"],
      baseUri: ["'none'"],
      frameAncestors: ["'none'"],
      requireTrustedTypesFor: ["'script'"],
      // The one that names the address of those threads.
      trustedTypes: ['gatherpan'],
    },
  },
  crossOriginEmbedderPolicy: true,
  referrerPolicy: { policy: 'no-referrer' },
  // Plain HTTP on loopback; whoever puts TLS in front sets this header there.
  strictTransportSecurity: false,
  xFrameOptions: { action: 'deny' },
});

/** Headers of every answer, of those too that are made before there is a request to answer. */
export const SECURITY_HEADERS: readonly (readonly [name: string, value: string])[] = (() => {
  const found: [string, string][] = [];
  const response = {
    setHeader: (name: string, value: string) => found.push([name, value]),
    removeHeader: () => {},
  };
  protect({} as IncomingMessage, response as unknown as ServerResponse, () => {});
  return found;
})();

export const securityHeaders: RequestHandler = (_request, response, next) => {
  for (const [name, value] of SECURITY_HEADERS) response.setHeader(name, value);
  next();
};

/** Requests a minute from one address (for IPv6, one network of 56 bits). */
export const requestRate = (perMinute: number): RequestHandler =>
  perMinute === 0
    ? (_request, _response, next) => next()
    : rateLimit({
        windowMs: 60_000,
        limit: perMinute,
        standardHeaders: 'draft-8',
        legacyHeaders: false,
        handler: (_request, response) => {
          const seconds = Number(response.getHeader('Retry-After') ?? 60);
          const error = new HttpError(
            'TOO_MANY',
            words().messages.server.tooMany(String(perMinute), String(seconds)),
          );
          sendProblem(response, problemOf(error), seconds);
        },
      });

/** Refuses what the client expects beyond `100-continue`, which Node meets by itself (RFC 9110, 10.1.1). */
export const expectations: RequestHandler = (request, _response, next) => {
  const { expect } = request.headers;
  if (expect !== undefined && expect.toLowerCase() !== '100-continue') {
    throw new HttpError('REFUSED', words().messages.server.expectation, 417);
  }
  next();
};

/**
 * Refuses requests under a host name that is not ours, as a page of another site makes them by letting its own
 * name point to this machine (DNS rebinding).
 *
 * @param hosts names without port; empty takes every name
 */
export const hostNames = (hosts: readonly string[]): RequestHandler => {
  const allowed = new Set(hosts.map((host) => host.toLowerCase()));
  return (request, _response, next) => {
    // RFC 9112, 3.2.
    if (request.headers.host === undefined && request.httpVersion === '1.1') {
      throw new HttpError('REFUSED', words().messages.server.malformed, 400);
    }
    if (allowed.size > 0) {
      const name = (request.headers.host ?? '').replace(/:\d+$/, '').toLowerCase();
      if (!allowed.has(name)) {
        throw new HttpError('REFUSED', words().messages.server.hostUnknown, 421);
      }
    }
    next();
  };
};

/** Refuses what a page of another site sends (Fetch Metadata, W3C). */
export const sameSite: RequestHandler = (request, _response, next) => {
  const site = request.headers['sec-fetch-site'];
  if (request.method === 'POST' && (site === 'cross-site' || site === 'same-site')) {
    throw new HttpError('REFUSED', words().messages.server.otherSite);
  }
  next();
};
