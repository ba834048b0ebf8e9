/** What keeps the service safe beside its limits: headers, rate, and who may ask. */
import type { RequestHandler } from 'express';
import { rateLimit } from 'express-rate-limit';
import helmet from 'helmet';
import { words } from '../words/language.ts';
import { HttpError, problemOf, sendProblem } from './problem.ts';

/** Headers of every answer. The page loads nothing from any other host and runs no inline code. */
export const securityHeaders = (): RequestHandler =>
  helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        // Pictures of the blank come as SVG and are shown as images, in which no script runs.
        imgSrc: ["'self'", 'blob:'],
        connectSrc: ["'self'"],
        formAction: ["'self'"],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
        requireTrustedTypesFor: ["'script'"],
      },
    },
    crossOriginEmbedderPolicy: true,
    referrerPolicy: { policy: 'no-referrer' },
    // Plain HTTP on loopback; whoever puts TLS in front sets this header there.
    strictTransportSecurity: false,
    xFrameOptions: { action: 'deny' },
  });

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

/**
 * Refuses requests under a host name that is not ours, as a page of another site makes them by letting its own
 * name point to this machine (DNS rebinding).
 *
 * @param hosts names without port; empty takes every name
 */
export const hostNames = (hosts: readonly string[]): RequestHandler => {
  const allowed = new Set(hosts.map((host) => host.toLowerCase()));
  return (request, _response, next) => {
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
