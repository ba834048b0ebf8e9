/** What is said of sheets: what a person calls them, and how they are annealed. Sources: `material/sheets/`. */
export const material = {
  /** By the name in the tray file. */
  titles: {
    DC01: 'Cold-rolled steel DC01',
    DC04: 'Cold-rolled deep-drawing steel DC04',
    DC06: 'Cold-rolled interstitial-free deep-drawing steel DC06',
    'DX51D+Z': 'Hot-dip zinc-coated steel DX51D+Z',
    '1.4301': 'Stainless steel 1.4301 (X5CrNi18-10), solution annealed',
    '1050A-O': 'Aluminium 1050A, soft (O)',
    '1050A-H14': 'Aluminium 1050A, half hard (H14)',
    '3003-O': 'Aluminium 3003, soft (O)',
    '5052-O': 'Aluminium 5052, soft (O)',
    '5754-O': 'Aluminium 5754, soft (O/H111)',
    '6061-O': 'Aluminium 6061, soft (O)',
    'Cu-ETP-R220': 'Copper Cu-ETP, soft (R220)',
    'CuZn37-R300': 'Brass CuZn37, soft (R300)',
  },
  /** What people also say for a sheet of the table, or for one that is like it, by its name; commas between them. */
  everyday: {
    DC01: 'mild steel, cold rolled steel, cold-rolled steel, low carbon steel, CRS, CRCA, steel, black steel',
    DC04: 'deep drawing steel, drawing steel',
    DC06: 'IF steel, interstitial-free steel, extra deep drawing steel',
    'DX51D+Z': 'galvanised steel, galvanized steel, galvanised, galvanized, galv, zinc coated steel',
    '1.4301': 'stainless, stainless steel, inox, austenitic stainless steel',
    '1050A-O': 'aluminium, aluminum, pure aluminium, pure aluminum, soft aluminium, soft aluminum',
    '1050A-H14': 'half-hard aluminium, half-hard aluminum, hard aluminium, hard aluminum',
    'Cu-ETP-R220': 'copper, soft copper, annealed copper, half-hard copper, hard copper, roofing copper',
    'CuZn37-R300': 'brass, soft brass, annealed brass, half-hard brass, cartridge brass, yellow brass',
  },
  families: {
    steel: 'steel',
    'stainless steel': 'stainless steel',
    aluminium: 'aluminium',
    magnesium: 'magnesium',
    copper: 'copper',
    brass: 'brass',
    titanium: 'titanium',
    'nickel silver': 'nickel silver',
    other: 'other',
    'not stated': 'not stated',
  },
  coatings: {
    none: 'no coating',
    zinc: 'zinc coated',
    paint: 'painted or plastic coated',
    other: 'coated otherwise',
    'not stated': 'coating not stated',
  },
  /** What is seen when the temperature is reached. */
  cues: {
    steel:
      'A dull red, seen in a darkened corner, all over the zone to be annealed; let it cool in still air.',
    steelHotter:
      'A dark cherry red, seen in a darkened corner, all over the zone to be annealed; let it cool in still air.',
    zinc: 'None: this sheet must not be heated.',
    stainless: 'None in the workshop: a torch does more harm than good.',
    aluminium:
      'Rub with plain soap and warm evenly until the streak turns dark brown to black, or use a temperature crayon; then let it cool or quench it.',
    aluminiumHotter:
      'A temperature crayon for 415 °C or a furnace with a thermometer, as soap turns black too early to tell. Hold it for 2 to 3 hours and cool it by up to 28 °C an hour down to 260 °C: cooled faster, it hardens again by itself over the next days.',
    copper: 'A dull red, just seen in a darkened corner; quench in water or let it cool, both leave it soft.',
    brass: 'The first trace of red, seen only in the dark; let it cool in air until black before quenching.',
    custom: 'Ask the supplier of this sheet how to see that the temperature is reached.',
  },
  /** What to do where the sheet must not be heated. */
  instead: {
    zinc: 'Form the tray from DC04 or DC06 and have it zinc coated afterwards, or change it so that it needs no annealing.',
    stainless:
      'Have it solution annealed by a heat treater (about 1040 °C, cooled quickly, then pickled): thin sheet scales and warps when you try it yourself.',
    coated:
      'Form the tray from bare sheet and have it coated afterwards, or change it so that it needs no annealing.',
    custom: 'The tray file gives no anneal temperature for this sheet: ask its supplier before heating it.',
  },
  /** Where a value of a sheet comes from that a tray file gives in full. */
  sources: {
    given: 'given in the tray file',
    notGiven: 'not given',
    practice: 'common practice, no source',
  },
};
