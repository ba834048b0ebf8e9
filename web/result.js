/** Shows what is known of a solved tray. */
import { byId, element, list, mm } from './page.js';
import { sentence } from './sentence.js';
import { words } from './words.js';

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
  return least === most ? most : sentence(words.range, { from: least, to: most });
}

export const annealWords = (count) =>
  count === null ? words.neverAnneal : count === 0 ? words.noAnneals : String(count);

/** For a screen reader and for the glance bar. */
export function summary({ verdict, figures }) {
  const word = words.verdicts[verdict.word];
  return {
    verdict: word[0].toUpperCase() + word.slice(1),
    ...(figures === null ? {} : { size: `${mm(figures.blank.length)} × ${mm(figures.blank.width)} mm` }),
  };
}

export function showResult(preview) {
  const { tray, figures, verdict } = preview;
  byId('verdict').dataset.verdict = verdict.word;
  byId('verdict-word').textContent = words.verdicts[verdict.word];
  byId('reasons').replaceChildren(
    ...verdict.reasons.map(({ weight, sentence }) => element('li', { class: weight }, sentence)),
    ...(figures?.warnings ?? []).map((warning) => element('li', {}, warning)),
  );
  byId('of-the-flat').hidden = figures === null;
  if (figures !== null) showFlat(preview);
  byId('print-sizes').replaceChildren(...sizes(tray));
  byId('shown').hidden = false;
}

/** What there is to show and to take of a tray that has a flat. */
function showFlat({ tray, figures, anneals, cautions, notes, pictures }) {
  const { blank, corners, thickness } = figures;

  const said = words.figures;
  const several = corners.length > 1;
  const losses = corners.flatMap(({ rimToLose }) => (rimToLose === null ? [] : [rimToLose]));
  const rim = ({ rimToLose, rimToLoseCorners: zone }) => {
    if (rimToLose === null) return said.rimKept;
    const names = zone.map((index) => corners.find((each) => each.index === index).letter).join(' + ');
    return zone.length > 1
      ? sentence(said.rimTogether, { length: mm(rimToLose), corners: names })
      : `${mm(rimToLose)} mm`;
  };
  byId('figures').replaceChildren(
    figure(said.blank, `${mm(blank.length)} × ${mm(blank.width)} mm`, `${(blank.area / 1e6).toFixed(3)} m²`),
    figure(
      several ? said.rimToLoseEach : said.rimToLose,
      losses.length === 0 ? said.rimKept : `${span(losses, 1)} mm`,
      said.rimToLoseIs,
    ),
    figure(
      said.thickest,
      `${mm(thickness.max, 2)} mm`,
      sentence(said.thickestFrom, { thickness: figures.sheet.thickness }),
    ),
    figure(said.anneals, annealWords(anneals.count)),
    figure(said.mass, `${blank.mass.toFixed(blank.mass < 1 ? 3 : 2)} kg`, said.massOf),
    figure(said.cutLength, `${(blank.cutLength / 1000).toFixed(2)} m`),
  );

  for (const address of addresses) URL.revokeObjectURL(address);
  const size = { length: mm(blank.length), width: mm(blank.width) };
  addresses = [
    picture(byId('picture-blank'), pictures.blank, sentence(words.pictures.blank, size)),
    picture(
      byId('picture-formed'),
      pictures.formed,
      sentence(words.pictures.formed, { height: tray.section.height }),
    ),
  ];
  byId('caption-blank').textContent = sentence(words.pictures.blankCaption, size);

  byId('corners').replaceChildren(
    ...corners.map((corner) =>
      element(
        'tr',
        {},
        element('th', { scope: 'row' }, corner.letter),
        ...[
          `${corner.cornerRadius} mm`,
          rim(corner),
          `${mm(corner.peakGather)} %`,
          `${mm(corner.peakStretch)} %`,
          `${sentence(words.range, { from: mm(corner.thinnest, 2), to: mm(corner.thickest, 2) })} mm`,
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
}

/** What would turn the verdict; null hides it until it is known. */
export function showChanges(found) {
  const sentences = found === null ? [] : found.changes.map(({ sentence }) => sentence);
  if (found !== null && sentences.length === 0 && found.without.length > 0) {
    sentences.push(
      sentence(words.noHelp, { list: found.without.map((about) => words.changes[about]).join(', ') }),
    );
  }
  if (found?.cutShort) sentences.push(words.cutShort);
  byId('changes').replaceChildren(...sentences.map((sentence) => element('li', {}, sentence)));
  list(byId('change-cautions'), found?.cautions ?? []);
  byId('changes-block').hidden = sentences.length === 0;
}

/** The sizes for the printed sheet, where the form is not shown. */
function sizes({ name, measured, plan, section, sheet, forming }) {
  const said = words.sizes;
  const rows = [
    [said.name, name],
    [said.measured, said.skins[measured]],
  ];
  if ('length' in plan) {
    const radii = [plan.cornerRadius].flat().join('; ');
    rows.push([said.lengthAndWidth, `${plan.length} × ${plan.width} mm`], [said.cornerRadius, `${radii} mm`]);
  } else if (plan.vertices) {
    rows.push([said.plan, sentence(said.corners, { count: plan.vertices.length })]);
  }
  const material = typeof sheet.material === 'string' ? sheet.material : sheet.material.name;
  rows.push(
    [said.height, `${section.height} mm`],
    [said.bottomRadius, `${section.bottomRadius} mm`],
    [said.draft, `${section.draft}°`],
    [said.sheet, `${material}, ${sheet.thickness} mm`],
    [said.grain, `${sheet.grain}°`],
    [said.trim, `${forming.trim} mm`],
  );
  return rows.map(([title, value]) => figure(title, value));
}
