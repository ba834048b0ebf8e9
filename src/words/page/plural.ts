/**
 * The forms of a text that counts something, by the plural category of `{count}` (Unicode CLDR, as
 * `Intl.PluralRules` has them): English has two, others have up to six. A form that is left out is as `other`.
 */
export type Plural = Readonly<Partial<Record<Intl.LDMLPluralRule, string>>> & { readonly other: string };

export const plural = (forms: Plural): Plural => forms;
