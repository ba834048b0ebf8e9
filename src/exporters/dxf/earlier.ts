/** The settings of version 0.1 for what a drawing shows besides the cut, and what has taken their place. */
import { GatherpanError } from '../../errors.ts';
import type { Words } from '../../words/english.ts';
import { words } from '../../words/language.ts';
import type { Earlier, ParameterValues } from '../contract.ts';
import { listed } from '../parameters.ts';
import { MARKS, type Mark, USUAL_MARKS } from './choices.ts';

/** Of version 0.1, which drew scribe lines, arrow and text unless told not to. To be taken out after 0.2. */
const EARLIER_NAMES = ['text', 'cutOnly', 'contours', 'tucks'] as const;

/** The marks that values ask for, those of version 0.1 too. */
export function marksOf(values: ParameterValues): readonly Mark[] {
  if (!EARLIER_NAMES.some((name) => name in values)) return listed(String(values.marks ?? '')) as Mark[];
  const { cutOnly, text, contours, tucks } = values;
  if (cutOnly === true) return [];
  return MARKS.filter((mark) => {
    if (mark === 'text') return text !== 'none';
    if (mark === 'gather') return contours === true;
    if (mark === 'tucks') return tucks === true;
    return USUAL_MARKS.includes(mark);
  });
}

export const earlierIn = ({ exporters: { dxf: said } }: Words): Earlier => {
  return {
    parameters: [
      {
        name: 'text',
        type: 'choice',
        default: 'inside',
        choices: ['inside', 'outside', 'none'],
        help: said.earlier,
      },
      { name: 'cutOnly', type: 'boolean', default: false, help: said.earlier },
      { name: 'contours', type: 'boolean', default: false, help: said.earlier },
      { name: 'tucks', type: 'boolean', default: false, help: said.earlier },
    ],
    instead: (given) => {
      const say = words().messages.exporters.earlier;
      const names = EARLIER_NAMES.filter((name) => name in given).map((name) => `dxf.${name}`);
      if (given.marks !== undefined && given.marks !== '') {
        throw new GatherpanError('BAD_INPUT', {
          path: names[0]!,
          message: say.besideMarks(names.join(', ')),
        });
      }
      const marks = marksOf(given);
      return marks.length === 0
        ? say.cutOnly(names.join(', '))
        : given.text === 'outside' && marks.includes('text')
          ? say.outside(names.join(', '), `dxf.marks=${marks.join(',')}`)
          : say.marks(names.join(', '), `dxf.marks=${marks.join(',')}`);
    },
  };
};
