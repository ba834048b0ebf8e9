/** What is said of sheets: what a person calls them, and how they are softened. Sources: `material/sheets/`. */
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
  families: {
    steel: 'steel',
    'zinc-coated steel': 'zinc-coated steel',
    aluminium: 'aluminium',
    copper: 'copper',
    brass: 'brass',
    stainless: 'stainless',
    other: 'other',
  },
  /** What is seen when the temperature is reached. */
  cues: {
    steel:
      'A dull red, seen in a darkened corner, all over the zone to be softened; let it cool in still air.',
    zinc: 'None: this sheet must not be heated.',
    stainless: 'None in the workshop: a torch does more harm than good.',
    aluminium:
      'Rub with plain soap and warm evenly until the streak turns dark brown to black, or use a temperature crayon; then let it cool or quench it.',
    aluminiumHotter:
      'A temperature crayon for 415 °C or a furnace with a thermometer; soap turns black too early to tell.',
    copper: 'A dull red, just seen in a darkened corner; quench in water or let it cool, both leave it soft.',
    brass: 'The first trace of red, seen only in the dark; let it cool in air until black before quenching.',
    custom: 'Ask the supplier of this sheet how the temperature is seen.',
  },
  cautions: {
    steelBare: 'Heat only bare steel: zinc, paint, oil and protective film give off harmful fumes.',
    steelTooHot: 'Do not go past 720 °C: brighter red coarsens the grain and scales the sheet away.',
    steelLooksCold:
      'Red-hot steel looks cold in daylight: keep hands, hoses and anything that burns away until it is cool.',
    zincFume:
      'Never heat zinc-coated sheet with a torch: zinc melts at 420 °C and boils at 907 °C, and its fume gives metal fume fever some hours later.',
    zincCutting:
      'Welding, laser and plasma cutting of zinc-coated sheet make the same fume: extract it at the source.',
    zincCracks: 'Heavy gathering can crack the coating: inspect the corners and repair bare spots.',
    stainlessRust:
      'Between about 450 and 850 °C chromium carbides form and the sheet rusts along its grains afterwards (sensitisation): do not heat it with a torch.',
    stainlessSoft:
      'Only above 1000 °C with quick cooling is it soft and stainless again, and thin sheet scales and warps on the way.',
    stainlessHard:
      'It hardens fast under the hammer and springs back more than mild steel: work it in even courses.',
    aluminiumNoGlow:
      'Aluminium shows no red before it melts (650 °C for 1050A): never wait for a glow, and never heat it blind.',
    aluminiumFlame: 'Keep the flame soft and moving: thin edges and corners reach melting point first.',
    aluminiumLooksCold: 'A piece at 400 °C looks cold: mark it hot and pick it up with tongs.',
    aluminiumHalfHard:
      'Half-hard sheet has almost no stretch left: anneal it before the first course, and solve the tray as 1050A-O then.',
    aluminiumHold:
      'A heat-treatable alloy: hold it 2 to 3 hours and cool it no faster than 28 °C an hour down to 260 °C.',
    aluminiumAges: 'Quenched or air cooled from above that it hardens again by itself over the next days.',
    copperFlame:
      'Use a neutral or slightly oxidising flame: a fuel-rich one makes this copper, which holds oxygen, brittle with steam.',
    copperTooHot:
      'Do not hold it brighter or longer than needed: the grain coarsens and the surface roughens like orange peel.',
    copperQuench: 'Quench open pieces only, never a closed or oily one, and keep clear of the steam.',
    copperAcid: 'Rinse after pickling and add acid to water, never water to acid.',
    brassTooHot:
      'No brighter: zinc begins to fume off, the grain coarsens and the surface roughens like orange peel.',
    brassBrittle: 'Do not move or strike it while it is red: brass is brittle when hot.',
    brassFume: 'Extract the fume, and keep clear of the steam when quenching.',
    brassCracks:
      'Hard-worked brass left with its stresses can crack by itself near ammonia: anneal the finished tray or relieve it at about 250 °C.',
    customCoated:
      'Never heat a sheet that is zinc coated, painted or covered with film: the fumes are harmful.',
    customAluminium: 'Aluminium shows no red before it melts.',
  },
  /** What to do where the sheet must not be heated. */
  instead: {
    zinc: 'Stay within the strain between anneals by a larger plan radius or a lower wall, or form the tray from DC04 or DC06 and have it zinc coated afterwards.',
    stainless:
      'Have it solution annealed by a heat treater (1010 to 1120 °C, quick cooling, pickled), or use a larger plan radius so that one pass is enough.',
    custom: 'The tray file gives no anneal temperature for this sheet: ask its supplier before heating it.',
  },
  /** Where a value of a sheet comes from that a tray file gives in full. */
  sources: {
    given: 'given in the tray file',
    notGiven: 'not given',
    practice: 'common practice, no source',
  },
};
