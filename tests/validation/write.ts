/** `npm run validate`: writes the validation chapter to out/validation. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { chapter } from './chapter.ts';
import { roundCup, squareCup } from './drawnCups.ts';
import { handbook } from './handbook.ts';
import { numerical } from './numerical.ts';
import { judgeAll, path } from './path.ts';
import type { Section } from './section.ts';
import { sensitivity } from './sensitivity.ts';
import { shopWork } from './shopWork.ts';

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const made = (section: Section): Section => {
  say(section.title);
  return section;
};

const judged = judgeAll(({ lip }) => ({ steps: 16, around: 16, out: lip === undefined ? 16 : 24 }));
const everyday = judged.find(({ tray }) => tray.name === 'everyday tray')!;
const sections = [
  made(numerical()),
  made(handbook()),
  made(path(judged)),
  made(roundCup()),
  made(squareCup({ around: 8, out: 16, stepsPerMillimetre: 0.5 })),
  made(shopWork()),
  made(sensitivity(everyday.verdict.path[everyday.verdict.middle]!)),
];
const folder = 'out/validation';
mkdirSync(folder, { recursive: true });
writeFileSync(`${folder}/index.html`, chapter(sections));
say(`${folder}/index.html`);
