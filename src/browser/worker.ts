/** A thread of a page. What has to be set before anything else is loaded is set here. */
import './sameNumbers.ts';
import './withoutCodeFromText.ts';

await import('./work.ts');
