/** Asks an address again and again on one open connection, from a process of its own; prints the times in ms. */
import { Agent, request } from 'node:http';

const [, , url, count] = process.argv;
const agent = new Agent({ keepAlive: true });

const timed = () =>
  new Promise((resolve, reject) => {
    const began = performance.now();
    request(url, { agent }, (response) => {
      response.resume();
      response.on('end', () => resolve(performance.now() - began));
    })
      .on('error', reject)
      .end();
  });

const times = [];
for (let i = 0; i < Number(count); i++) {
  times.push(await timed());
  await new Promise((resolve) => setTimeout(resolve, 5));
}
console.log(JSON.stringify(times));
process.exit();
