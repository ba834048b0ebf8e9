/** A server of Node and nothing else, in a process of its own: answers the same bytes to everything; tells its port. */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

const body = JSON.stringify({ status: 'ok' });
const server = createServer((_request, response) => {
  response.setHeader('Content-Type', 'application/json; charset=utf-8');
  response.end(body);
}).listen(0, '127.0.0.1', () => process.send!((server.address() as AddressInfo).port));
process.on('disconnect', () => process.exit());
