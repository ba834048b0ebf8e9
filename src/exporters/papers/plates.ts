/** Gauges, former plies and the strip for the rim: as DXF for cutting, as PDF for card and scissors. */
import { FACE, HAMMER_CROWN } from '../../papers/crowns.ts';
import type { Words } from '../../words/english.ts';
import { CONTRACT_VERSION, type Exporter, type Parameter, type Use } from '../contract.ts';
import type { Means } from '../means.ts';
import { choice, number, yesOrNo } from '../parameterKinds.ts';
import type { PlateSetName } from './plateFiles.ts';
import { sheetPaper, stages, trialBend, unitParameter } from './settings.ts';

/** Plates that are made together. */
interface PlateSet {
  readonly id: PlateSetName;
  readonly parameters: readonly Parameter[];
  readonly uses: readonly Use[];
  /** Whether the paper shows them at full size. */
  readonly fullSize: boolean;
}

/** A set as a drawing and, with fonts, as a paper. */
function pair({ id, parameters, uses, fullSize }: PlateSet, words: Words, { fonts }: Means): Exporter[] {
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

const setsOf = (exporters: Words['exporters']): PlateSet[] => {
  const { gauges, former, strip } = exporters;
  return [
    {
      id: 'gauges',
      parameters: [
        number('hammerRadius', 'mm', HAMMER_CROWN, [20, 3000], gauges.hammerRadius),
        number('dollyRadius', 'mm', 0, [0, 3000], gauges.dollyRadius),
        number('face', 'mm', FACE, [10, 100], gauges.face),
        stages(gauges.stages),
        trialBend(exporters),
      ],
      uses: ['gauges'],
      fullSize: true,
    },
    {
      id: 'former',
      parameters: [
        number('clearance', 'mm', 0.5, [0, 10], former.clearance),
        number('ply', 'mm', 18, [1, 200], former.ply),
        yesOrNo('overbend', false, former.overbend),
        trialBend(exporters),
      ],
      uses: ['form'],
      fullSize: true,
    },
    {
      id: 'strip',
      parameters: [
        number('height', 'mm', 25, [5, 500], strip.height),
        number('thickness', 'mm', 0, [0, 10], strip.thickness),
        choice('flush', ['inside', 'middle', 'outside'], strip.flush),
        choice('joint', ['butt', 'overlap'], strip.joint),
        number('allowance', 'mm', 1, [0, 50], strip.allowance),
        number('stock', 'mm', 2000, [100, 12_000], strip.stock),
      ],
      uses: ['cut', 'weld'],
      fullSize: false,
    },
  ];
};

/** Gauges, former and strip. */
export const plateExporters = (words: Words, means: Means): Exporter[] =>
  setsOf(words.exporters).flatMap((set) => pair(set, words, means));
