/** The express app: safety first, then the addresses, then the page, then what is wrong. */
import { posix } from 'node:path';
import { fileURLToPath } from 'node:url';
import express, { type Express } from 'express';
import { words } from '../words/language.ts';
import { emptyBench, emptyPage, type PageFolders, pageFiles } from './pageFiles.ts';
import { HttpError, problemHandler } from './problem.ts';
import { type Route, routes, type Services } from './routes.ts';
import { expectations, hostNames, requestRate, sameSite, securityHeaders } from './security.ts';

/** The page: its documents, with places for texts, and what the build makes of all the rest. */
export const PAGE_FOLDERS: PageFolders = {
  documents: fileURLToPath(new URL('../../web/', import.meta.url)),
  built: fileURLToPath(new URL('../../dist/page/', import.meta.url)),
};

export interface AppOptions extends Omit<Services, 'page' | 'bench'> {
  /** Host names the service answers to, without port; empty for any. */
  readonly hosts: readonly string[];
  /** Number of proxies in front whose word about the client's address is taken. */
  readonly proxies: number;
  /** Told of every error that is a fault of the program. */
  readonly fault: (error: unknown) => void;
}

export function createApp(options: AppOptions): Express {
  const app = express();
  app.disable('x-powered-by');
  app.set('trust proxy', options.proxies);
  // Parameters are plain text: no lists or objects from brackets in an address.
  app.set('query parser', 'simple');
  app.use(securityHeaders, expectations, hostNames(options.hosts), sameSite);

  const page = pageFiles(PAGE_FOLDERS, words(), options.version);
  const { documents } = PAGE_FOLDERS;
  const table = routes({
    ...options,
    page: emptyPage(documents, words()),
    bench: emptyBench(documents, words()),
  });
  const isProbe = (path: string): boolean => path === '/api/health' || path === '/api/ready';
  const limit = requestRate(options.limits.requestsPerMinute);
  app.use('/api', (request, response, next) => {
    if (isProbe(`/api${request.path}`)) next();
    else limit(request, response, next);
  });
  for (const { method, path, handlers } of table) app[method](path, ...handlers);
  for (const path of new Set(table.map((route) => route.path))) {
    app.all(path, (_request, response) => {
      response.set('Allow', allowed(table, path).join(', '));
      throw new HttpError('METHOD', methodsTaken(allowed(table, path)));
    });
  }

  app.use((_request, response, next) => {
    options.sending.limit(response);
    next();
  });
  app.use((request, response, next) => {
    const file = page.get(plainPath(request.path));
    if (file === undefined || (request.method !== 'GET' && request.method !== 'HEAD')) next();
    else response.type(file.type).set('Cache-Control', 'no-cache').send(file.body);
  });
  app.use(
    express.static(PAGE_FOLDERS.built, {
      dotfiles: 'ignore',
      redirect: false,
      setHeaders: (response) => response.setHeader('Cache-Control', 'no-cache'),
    }),
  );
  app.use(() => {
    throw new HttpError('NO_SUCH_ADDRESS', words().messages.server.noSuchAddress);
  });
  app.use(problemHandler(options.fault));
  return app;
}

/** A path as the folder's own files are found by, whatever way it was written. */
function plainPath(path: string): string {
  try {
    return posix.normalize(decodeURIComponent(path));
  } catch {
    return path; // refused further on
  }
}

function methodsTaken([first = '', ...others]: readonly string[]): string {
  const said = words().messages.server;
  return others.length === 0 ? said.method(first) : said.methods(first, others.join(', '));
}

const allowed = (table: readonly Route[], path: string): string[] =>
  table
    .filter((route) => route.path === path)
    .flatMap((route) => (route.method === 'get' ? ['GET', 'HEAD'] : ['POST']));
