/** Does a task with a kernel at hand; runs in the kernel's thread. */
import { GatherpanError } from '../../errors.ts';
import { developPart } from '../asItIs/developPart.ts';
import { recogniseTray } from '../recognise/recogniseTray.ts';
import type { Bound } from './instance.ts';
import { withPart } from './readShape.ts';
import type { KernelAnswer, KernelTask } from './tasks.ts';

/** Turn of the normal across a triangle of the kernel's net, radians. */
const NET_ANGLE = 0.35;

/** @throws GatherpanError for a part that is not acceptable; anything else is a fault of the kernel */
export function work(kernel: Bound, task: KernelTask): KernelAnswer {
  if (task.kind === 'warm') return { kind: 'warm' };
  return withPart(kernel, task.bytes, { angle: NET_ANGLE }, (live): KernelAnswer => {
    if (task.kind === 'read') return { kind: 'read', part: live.part };
    const { given, path, surfaceOnly } = task;
    if (path !== 'as it is') {
      const file = recogniseTray(live.part, given);
      if (file !== null || path === 'recognise') return { kind: 'tray', file };
    }
    if (surfaceOnly && live.part.kind === 'solid') {
      throw new GatherpanError(
        'BAD_INPUT',
        'The STEP file holds a solid, which has its own thickness; leave --thickness out.',
      );
    }
    return { kind: 'pattern', pattern: developPart(live, given) };
  });
}
