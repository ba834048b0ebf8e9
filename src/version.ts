/** The version of this package, the same as in its package.json (a test compares them). */
export const VERSION = '0.2.0';
