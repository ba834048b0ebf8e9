/** The picture answers the pointer: what the metal does there, in words. */
import { type LengthUnit, withUnit } from '../src/papers/lengths.ts';
import { byId, image, say, sentence } from './page.ts';
import { type Asked, atPoint } from './solving.ts';
import { words } from './words.js';

/** @param shown what is shown now, where it answers the form */
export function pointAtPicture(shown: () => Asked | null, unit: () => LengthUnit): void {
  const target = image('picture-blank');
  const place = byId('at-point');
  let asking = false;
  /** One question at a time: the newest place waits for the answer before. */
  let next: PointerEvent | null = null;

  async function ask(event: PointerEvent): Promise<void> {
    next = event;
    if (asking) return;
    asking = true;
    while (next !== null) {
      const { clientX, clientY }: PointerEvent = next;
      next = null;
      const asked = shown();
      const [across, down] = within(target, clientX, clientY);
      const found = asked === null ? null : await atPoint(asked, across, down).catch(() => null);
      say(
        place,
        found === null || shown() !== asked
          ? undefined
          : sentence(words.atPoint, {
              thickness: withUnit(found.thickness, unit(), 2),
              gather: found.gather.toFixed(0),
              stretch: found.stretch.toFixed(0),
            }),
      );
    }
    asking = false;
  }

  target.addEventListener('pointermove', (event) => void ask(event));
  target.addEventListener('pointerdown', (event) => void ask(event));
  target.addEventListener('pointerleave', () => {
    next = null;
    say(place, undefined);
  });
}

/** A place on the screen in parts of a picture that is fitted into its box. */
function within(target: HTMLImageElement, x: number, y: number): [across: number, down: number] {
  const box = target.getBoundingClientRect();
  const scale = Math.min(box.width / target.naturalWidth, box.height / target.naturalHeight);
  const [width, height] = [target.naturalWidth * scale, target.naturalHeight * scale];
  return [(x - box.x - (box.width - width) / 2) / width, (y - box.y - (box.height - height) / 2) / height];
}
