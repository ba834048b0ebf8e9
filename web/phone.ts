/** The link of the tray as a code that a phone's camera reads, where another device can open it. */
import { busyWhile } from './files.ts';
import { button, byId, image, picture } from './page.ts';
import { failure } from './service.ts';
import { words } from './words.js';

/** Longest link, in bytes: a code with more dots is too fine for a camera at a screen. */
const LONGEST = 1800;

/** Addresses that mean the very device that opens them. */
const OWN = /^(localhost|.*\.localhost|127\..*|0\.0\.0\.0|\[::1?\])$/;

/** @param link of what is in the form, once it is solved */
export function sendToPhone(link: () => Promise<string>): void {
  const send = button('phone');
  send.hidden = !/^https?:$/.test(location.protocol) || OWN.test(location.hostname);
  send.addEventListener('click', () =>
    busyWhile(send, async () => {
      const address = await link();
      if (address.length > LONGEST) throw failure(words.linkTooLongForPhone);
      const { encodeQR } = await import('qr');
      picture(
        image('phone-picture'),
        encodeQR(address, 'svg', { ecc: 'low', border: 4 }),
        'image/svg+xml',
        words.phonePicture,
      );
      byId('phone-code').hidden = false;
    }),
  );
}
