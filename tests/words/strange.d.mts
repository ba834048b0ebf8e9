import type { Words } from '../../src/words/english.ts';

export declare const strange: (text: string) => string;
export declare function strangeTable(table: Words): Words;
