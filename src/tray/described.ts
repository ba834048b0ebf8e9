/** What each field of a tray file is, in words, for the schemas; asked for when it is said. */
import { words } from '../words/language.ts';

export const described = () => words().messages.tray.fields.described;
