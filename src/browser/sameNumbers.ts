/** Puts the elementary functions that Node has in the place of this thread's own, so that a tray has the same bytes in both. */
import * as elementary from '../elementary.ts';

Object.assign(Math, elementary);
