/** The library that checks trays makes code from text where it may; a page's policy forbids it, so it is told before it tries. */
import { config } from 'zod';

config({ jitless: true });
