/** How the blanks of a sheet are drawn. */
import { GatherpanError } from '../errors.ts';
import type { DxfVersion } from '../exporters/dxf/choices.ts';
import { words } from '../words/language.ts';

/** `copy`: every blank is drawn in full. `block`: each kind is drawn once, and shown where it lies. */
export type PartDrawing = 'copy' | 'block';

/**
 * Controllers that are too old for more than R12 mostly pass over blocks (common practice, no source), and would cut
 * nothing.
 *
 * @throws GatherpanError BAD_INPUT for blocks in R12
 */
export function refuseBlocksInR12(parts: PartDrawing, version: DxfVersion = 'R2000'): void {
  if (parts === 'block' && version === 'R12')
    throw new GatherpanError('BAD_INPUT', words().messages.layout.blocksInR12);
}
