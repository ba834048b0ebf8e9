/** What may be answered to a question of a drawing: the same in the fields of the page and in its answer to those without scripts. */
import { sentence } from './answer.ts';
import type { DrawingQuestion } from './jobs.ts';
import type { PageWords } from './pageWords.ts';

type Question<About extends DrawingQuestion['about']> = Extract<DrawingQuestion, { about: About }>;

/** Values, and what each stands for. */
export function drawingChoices(
  question: Question<'units' | 'layer' | 'loop'>,
  words: Pick<PageWords, 'language' | 'drawing'>,
): (readonly [value: string, text: string])[] {
  const said = words.drawing;
  switch (question.about) {
    case 'units':
      return question.sizes.map(({ unit, drawn: [length, width], millimetres }) => {
        const [lengthInMillimetres, widthInMillimetres] = millimetres;
        const values = { unit, length, width, lengthInMillimetres, widthInMillimetres };
        return [unit, sentence(words, unit === 'mm' ? said.size : said.sizeInMillimetres, values)];
      });
    case 'layer':
      return question.layers.map((layer) => [layer, layer]);
    case 'loop':
      return question.loops.map(({ size: [length, width], x, y }, i) => [
        String(i + 1),
        sentence(words, said.outline, { length, width, x, y }),
      ]);
  }
}

/** Corners that are drawn sharp. @param named so many are named; the others are counted */
export function sharpCorners(
  { corners }: Question<'cornerRadius'>,
  words: Pick<PageWords, 'language' | 'drawing'>,
  named = corners.length,
): string {
  const said = words.drawing;
  const places = corners.slice(0, named).map((corner) => sentence(words, said.place, { ...corner }));
  return sentence(words, said.corners, {
    count: corners.length,
    places: places.join('; ') + (corners.length > named ? ' …' : ''),
  });
}
