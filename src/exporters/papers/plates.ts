/** Gauges, former plies and the strip for the rim: as DXF for cutting, as PDF for card and scissors. */
import { FACE, HAMMER_CROWN } from '../../papers/crowns.ts';
import type { Words } from '../../words/english.ts';
import { CONTRACT_VERSION, type Exporter, type Parameter, type Use } from '../contract.ts';
import type { Means } from '../means.ts';
import type { PlateSetName } from './plateFiles.ts';
import { choice, number, sheetPaper, unitParameter, yesOrNo } from './settings.ts';

/**
 * One set of plates as a drawing and, with fonts, as a paper.
 *
 * @param fullSize whether the paper shows them at full size
 */
function pair(
  id: PlateSetName,
  words: Words,
  { fonts }: Means,
  parameters: readonly Parameter[],
  uses: readonly Use[],
  fullSize = true,
): Exporter[] {
  const what = words.exporters[id].label;
  const drawing: Exporter = {
    contract: CONTRACT_VERSION,
    id: `${id}-dxf`,
    label: words.exporters.dxfOf(what),
    extension: `${id}.dxf`,
    mediaType: 'image/vnd.dxf',
    leadsTo: () => uses,
    parameters: [...parameters, unitParameter(words.exporters)],
    async write(pattern, values) {
      const { plateDrawing } = await import('./plateFiles.ts');
      return plateDrawing(id, pattern, values, words);
    },
  };
  if (fonts === undefined) return [drawing];
  const paper: Exporter = {
    contract: CONTRACT_VERSION,
    id: `${id}-pdf`,
    label: words.exporters.pdfOf(what),
    extension: `${id}.pdf`,
    mediaType: 'application/pdf',
    leadsTo: () => uses,
    parameters: [
      ...parameters,
      sheetPaper(words.exporters),
      ...(fullSize ? [choice('large', ['tiles', 'page'], words.exporters.large)] : []),
      unitParameter(words.exporters),
    ],
    async write(pattern, values) {
      const { platePaper } = await import('./plateFiles.ts');
      return platePaper(id, pattern, values, words, fonts);
    },
  };
  return [drawing, paper];
}

const gaugeParameters = ({ gauges: said, trialBend }: Words['exporters']): readonly Parameter[] => [
  number('hammerRadius', 'mm', HAMMER_CROWN, 20, 3000, said.hammerRadius),
  number('dollyRadius', 'mm', 0, 0, 3000, said.dollyRadius),
  number('face', 'mm', FACE, 10, 100, said.face),
  number('stages', '', 0, 0, 8, said.stages),
  number('trialBend', '°', 0, 0, 80, trialBend),
];

const formerParameters = ({ former: said, trialBend }: Words['exporters']): readonly Parameter[] => [
  number('clearance', 'mm', 0.5, 0, 10, said.clearance),
  number('ply', 'mm', 18, 1, 200, said.ply),
  yesOrNo('overbend', false, said.overbend),
  number('trialBend', '°', 0, 0, 80, trialBend),
];

const stripParameters = (said: Words['exporters']['strip']): readonly Parameter[] => [
  number('height', 'mm', 25, 5, 500, said.height),
  number('thickness', 'mm', 0, 0, 10, said.thickness),
  choice('flush', ['inside', 'middle', 'outside'], said.flush),
  choice('joint', ['butt', 'overlap'], said.joint),
  number('allowance', 'mm', 1, 0, 50, said.allowance),
  number('stock', 'mm', 2000, 100, 12_000, said.stock),
];

/** Gauges, former and strip. */
export const plateExporters = (words: Words, means: Means): Exporter[] => [
  ...pair('gauges', words, means, gaugeParameters(words.exporters), ['gauges']),
  ...pair('former', words, means, formerParameters(words.exporters), ['form']),
  ...pair('strip', words, means, stripParameters(words.exporters.strip), ['cut', 'weld'], false),
];
