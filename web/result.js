/** Shows what is known of a solved tray. */
import { byId, element, list, mm } from './page.js';

let addresses = [];

/** An SVG as an image: nothing in it can run, and it is never parsed as part of the page. */
function picture(image, svg, alt) {
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  image.src = address;
  image.alt = alt;
  return address;
}

const figure = (title, value, small) =>
  element(
    'div',
    {},
    element('dt', {}, title),
    element('dd', {}, value, ...(small ? [element('small', {}, small)] : [])),
  );

/** One value, or the span from the smallest to the largest. */
function span(values, digits) {
  const least = mm(Math.min(...values), digits);
  const most = mm(Math.max(...values), digits);
  return least === most ? most : `${least} to ${most}`;
}

export const annealWords = (count) =>
  count === null ? 'must not be annealed' : count === 0 ? 'none' : String(count);

/** One sentence for a screen reader and for the glance bar. */
export function summary({ judgement, figures }) {
  const { blank } = figures;
  const verdict = judgement.grade[0].toUpperCase() + judgement.grade.slice(1);
  return { verdict, blank: `${mm(blank.length)} × ${mm(blank.width)} mm` };
}

/** As in the tray file and on the pictures: corners from 0, curved edges in brackets. */
function cornerMark({ plan }, index) {
  const count = plan.vertices?.length ?? 4;
  return index < count ? String(index) : `(${index - count})`;
}

export function showResult(preview) {
  const { tray, figures, judgement, anneals, cautions, notes, pictures } = preview;
  const { blank, corners, thickness } = figures;
  byId('verdict').dataset.grade = judgement.grade;
  byId('grade').textContent = judgement.grade;
  byId('reasons').replaceChildren(
    ...judgement.reasons.map(({ weight, sentence }) => element('li', { class: weight }, sentence)),
    ...figures.warnings.map((warning) => element('li', {}, warning)),
  );

  const several = corners.length > 1;
  byId('figures').replaceChildren(
    figure('Blank', `${mm(blank.length)} × ${mm(blank.width)} mm`, `${(blank.area / 1e6).toFixed(3)} m²`),
    figure(
      several ? 'Rim to lose, each corner' : 'Rim to lose',
      `${span(
        corners.map((corner) => corner.rimToLose),
        1,
      )} mm`,
      'what the flat rim is too long by',
    ),
    figure('Thickest corner', `${mm(thickness.max, 2)} mm`, `from ${figures.sheet.thickness} mm`),
    figure('Anneals', annealWords(anneals.count)),
    figure('Mass', `${blank.mass.toFixed(blank.mass < 1 ? 3 : 2)} kg`, 'of the blank'),
    figure('Cut length', `${(blank.cutLength / 1000).toFixed(2)} m`),
  );

  for (const address of addresses) URL.revokeObjectURL(address);
  const size = `${mm(blank.length)} by ${mm(blank.width)} mm`;
  addresses = [
    picture(
      byId('picture-blank'),
      pictures.blank,
      `The blank, ${size}, with its scribe lines and gather zones.`,
    ),
    picture(
      byId('picture-formed'),
      pictures.formed,
      `The formed tray seen from an angle, ${tray.section.height} mm high.`,
    ),
  ];
  byId('caption-blank').textContent = `The blank, ${mm(blank.length)} × ${mm(blank.width)} mm`;

  byId('corners').replaceChildren(
    ...corners.map((corner) =>
      element(
        'tr',
        {},
        element('th', { scope: 'row' }, cornerMark(tray, corner.index)),
        ...[
          `${corner.planRadius} mm`,
          `${mm(corner.rimToLose)} mm`,
          `${mm(corner.peakGather)} %`,
          `${mm(corner.peakStretch)} %`,
          `${mm(corner.thinnest, 2)} to ${mm(corner.thickest, 2)} mm`,
        ].map((text) => element('td', {}, text)),
      ),
    ),
  );

  byId('anneal-count').textContent = annealWords(anneals.count);
  list(byId('anneal-notes'), anneals.notes);
  list(byId('anneal-cautions'), cautions.annealing);
  list(byId('notes'), notes);
  list(byId('forming-cautions'), cautions.forming);
  list(byId('cutting-cautions'), cautions.cutting);
  byId('print-sizes').replaceChildren(...sizes(tray));
  byId('shown').hidden = false;
}

/** What would turn the verdict; null hides it until it is known. */
export function showChanges(found) {
  const sentences =
    found === null
      ? []
      : found.changes.length > 0
        ? found.changes.map(({ sentence }) => sentence)
        : found.without.length > 0
          ? [`No help by themselves: ${found.without.join(', ')}.`]
          : [];
  byId('changes').replaceChildren(...sentences.map((sentence) => element('li', {}, sentence)));
  byId('changes-block').hidden = sentences.length === 0;
}

/** The sizes for the printed sheet, where the form is not shown. */
function sizes({ name, measured, plan, section, sheet, forming }) {
  const rows = [
    ['Name', name],
    ['Measured', measured],
  ];
  if ('length' in plan) {
    const radii = [plan.cornerRadius].flat().join('; ');
    rows.push(['Length × width', `${plan.length} × ${plan.width} mm`], ['Corner radius', `${radii} mm`]);
  } else if (plan.vertices) {
    rows.push(['Plan', `${plan.vertices.length} corners`]);
  }
  const material = typeof sheet.material === 'string' ? sheet.material : sheet.material.name;
  rows.push(
    ['Height', `${section.height} mm`],
    ['Bottom radius', `${section.bottomRadius} mm`],
    ['Draft', `${section.draft}°`],
    ['Sheet', `${material}, ${sheet.thickness} mm`],
    ['Grain', `${sheet.grain}°`],
    ['Trim', `${forming.trim} mm`],
  );
  return rows.map(([title, value]) => figure(title, value));
}
