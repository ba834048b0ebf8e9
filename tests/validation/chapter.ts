/** The chapter as one HTML document. */
import { svgText } from '../../src/drawing/svg.ts';
import type { Section, Table } from './section.ts';

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

const NUMBER = /^([+−±]?[\d.]+( %|°)?|–)$/;

const row = (cells: readonly string[], kind: 'td' | 'th'): string =>
  `<tr>${cells.map((cell) => `<${kind}${NUMBER.test(cell) || kind === 'th' ? '' : ' class="words"'}>${escaped(cell)}</${kind}>`).join('')}</tr>`;

/** The caption stands outside, so that on a narrow screen the table alone scrolls. */
const table = ({ caption, head, rows }: Table, id: string): string =>
  `<p class="caption" id="${id}">${escaped(caption)}</p>\n<div class="table"><table aria-labelledby="${id}">\n<thead>${row(head, 'th')}</thead>\n<tbody>\n${rows.map((cells) => row(cells, 'td')).join('\n')}\n</tbody>\n</table></div>`;

const paragraphs = (texts: readonly string[]): string =>
  texts.map((text) => `<p>${escaped(text)}</p>`).join('\n');

const section = ({ id, title, about, tables, pictures, verdict, sources }: Section): string =>
  [
    `<section id="${id}">`,
    `<h2>${escaped(title)}</h2>`,
    paragraphs(about),
    ...tables.map((one, i) => table(one, `${id}-table-${i + 1}`)),
    ...pictures.map(
      (picture, i) =>
        `<figure>${svgText(picture, { prefix: `${id}-${i}-` })}<figcaption>${escaped(picture.title)}</figcaption></figure>`,
    ),
    `<div class="verdict">\n${paragraphs(verdict)}\n</div>`,
    `<h3>Sources</h3>\n<ul>${sources.map((source) => `<li>${escaped(source)}</li>`).join('')}</ul>`,
    '</section>',
  ].join('\n');

const STYLE = `
body { font: 16px/1.5 Arimo, Arial, Helvetica, sans-serif; color: #1c1c1c; margin: 0 auto; padding: 1rem; max-width: 62rem; }
h1, h2, h3 { line-height: 1.2; } h2 { margin-top: 3rem; border-top: 2px solid #1c1c1c; padding-top: 1rem; } h3 { font-size: 1rem; }
.table { overflow-x: auto; margin: 0.5rem 0 1.5rem; } table { border-collapse: collapse; font-size: 0.9rem; }
.caption { font-style: italic; font-size: 0.9rem; margin-bottom: 0; }
th, td { padding: 0.25rem 0.7rem; border-bottom: 1px solid #c8c8c8; text-align: right; font-variant-numeric: tabular-nums; }
th { border-bottom: 2px solid #1c1c1c; vertical-align: bottom; } th:first-child, td.words { text-align: left; } td.words { min-width: 7rem; }
figure { margin: 1.5rem 0; } figure svg { max-width: 100%; height: auto; } figcaption { font-style: italic; font-size: 0.9rem; }
.verdict { border-left: 4px solid #1c1c1c; padding-left: 1rem; } ul { padding-left: 1.2rem; font-size: 0.9rem; }
nav ol { padding-left: 1.2rem; }`;

export const chapter = (sections: readonly Section[]): string => `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>gatherpan: validation</title>
<style>${STYLE}
</style>
</head>
<body>
<h1>Validation</h1>
<p>What the blanks of gatherpan are worth, against solutions of another kind, handbooks and measured parts. Every figure here was computed by the command that wrote this page, <code>npm run validate</code>; every source says whether it was read. Lengths are millimetres.</p>
<nav><ol>
${sections.map(({ id, title }) => `<li><a href="#${id}">${escaped(title)}</a></li>`).join('\n')}
</ol></nav>
${sections.map(section).join('\n')}
</body>
</html>
`;
