/** Does a task with a kernel at hand; runs in the kernel's thread. */
import { GatherpanError } from '../../errors.ts';
import { words } from '../../words/language.ts';
import { developPart } from '../freeForm/developPart.ts';
import { findSkin } from '../freeForm/skins.ts';
import { recogniseTray } from '../recognise/recogniseTray.ts';
import type { SheetFaces } from '../sheet/accounting.ts';
import { sheetFaces } from '../sheet/sheetFaces.ts';
import type { Bound } from './instance.ts';
import type { LivePart } from './livePart.ts';
import { withPart } from './readShape.ts';
import type { OcctAnswer, OcctTask } from './tasks.ts';

/** Turn of the normal across a triangle of the kernel's net, radians. */
const NET_ANGLE = 0.35;

/** @throws GatherpanError for a part that is not acceptable; anything else is a fault of the kernel */
export function work(occt: Bound, task: OcctTask): OcctAnswer {
  if (task.kind === 'warm') return { kind: 'warm' };
  return withPart(occt, task.bytes, { angle: NET_ANGLE }, (live): OcctAnswer => {
    if (task.kind === 'read') return { kind: 'read', part: live.part };
    const { given, path, surfaceOnly } = task;
    const { kind } = live.part;
    // Both ways begin here: what is no sheet is neither recognised nor unfolded.
    const sheet = kind === 'solid' ? sheetFaces(live) : null;
    if (path !== 'as it is') {
      const recognised = recogniseTray(live.part, given);
      if (recognised === null && path === 'recognise') sayWhyNot(live, sheet);
      if (recognised !== null || path === 'recognise') return { kind: 'tray', recognised };
    }
    if (surfaceOnly && kind === 'solid') {
      throw new GatherpanError('BAD_INPUT', words().messages.step.part.solidHasThickness);
    }
    return { kind: 'pattern', pattern: developPart(live, given, undefined, sheet) };
  });
}

/** @throws GatherpanError when the part is no sheet that can be unfolded; one of another shape than a tray's is none */
function sayWhyNot(live: LivePart, sheet: SheetFaces | null): void {
  if (live.part.kind === 'surface') {
    throw new GatherpanError('NOT_MAKEABLE', words().messages.step.part.surfaceIsNoTray);
  }
  findSkin(live, null, sheet);
}
