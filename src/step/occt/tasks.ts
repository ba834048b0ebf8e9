/** What the kernel's thread is asked, and what it answers: plain data that can be copied between threads. */
import type { ErrorCode, Fault } from '../../errors.ts';
import type { DevelopedPart } from '../freeForm/developPart.ts';
import type { PartGiven } from '../freeForm/partGiven.ts';
import type { Part } from '../part.ts';
import type { Recognised } from '../recognise/recogniseTray.ts';

export type OcctTask =
  /** Loads the kernel, so that the next task finds it warm. */
  | { readonly kind: 'warm' }
  /** The part's faces, volume and area. */
  | { readonly kind: 'read'; readonly bytes: Uint8Array }
  /** The tray file when the part is plan loop × section; else, when allowed, the part unfolded as it is. */
  | {
      readonly kind: 'tray';
      readonly bytes: Uint8Array;
      readonly given: PartGiven;
      /** A thickness was asked for, so that a solid is refused. */
      readonly surfaceOnly: boolean;
      readonly path: 'recognise' | 'as it is' | 'either';
    };

export type OcctAnswer =
  | { readonly kind: 'warm' }
  | { readonly kind: 'read'; readonly part: Part }
  /** The tray file is not yet checked; null when the part is not recognised and that was all allowed. */
  | { readonly kind: 'tray'; readonly recognised: Recognised | null }
  | { readonly kind: 'pattern'; readonly pattern: DevelopedPart };

export type OcctReply =
  | { readonly ok: true; readonly answer: OcctAnswer; readonly memory: number }
  /** The part is not acceptable; the kernel is well. */
  | {
      readonly ok: false;
      readonly code: ErrorCode;
      readonly faults: readonly Fault[];
      readonly memory: number;
    }
  /** Something went wrong inside the kernel: its memory is not to be trusted any more. */
  | {
      readonly ok: false;
      readonly fault: string;
      /** It was refused memory before. */
      readonly outOfMemory: boolean;
    };

/** What the kernel's thread is told when it starts. */
export interface ThreadData {
  /** Most memory of the kernel, MB. */
  readonly occtMemory: number;
}
