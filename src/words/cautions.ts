/** The cautions of the trade. Which one holds for which act and metal: `material/cautions.ts`. */
export const cautions = {
  acts: {
    laser: 'laser cutting',
    plasma: 'plasma cutting',
    'water jet': 'water jet cutting',
    'hand cutting': 'cutting by hand',
    grind: 'grinding',
    handle: 'handling',
    hammer: 'hammering',
    anneal: 'annealing',
    quench: 'quenching',
    pickle: 'pickling',
    weld: 'welding',
  },
  /** Of an alloy whose melting onset is known. */
  noGlowBefore: (sheet: string, degrees: string) =>
    `Aluminium shows no red before it melts, and ${sheet} begins to melt at ${degrees} °C: never wait for a glow, and never heat it blind.`,
  sentences: {
    checkSize: 'Check the overall size of the drawing before anything is cut.',
    neverHeat: 'This sheet must not be heated in the workshop.',

    magnesiumNoTorch:
      'Never take a torch to magnesium: it can catch fire before it glows. Heat it only in a furnace with a thermostat; welding it is for a specialist.',
    magnesiumFire:
      'Magnesium chips, dust and thin edges burn fiercely, and water makes the fire worse: sweep chips up dry, keep them in a closed steel bin, and have dry sand or a class D extinguisher at hand.',
    titaniumFire:
      'Titanium chips and dust burn fiercely, and water makes the fire worse: sweep them up dry, and have dry sand or a class D extinguisher at hand.',
    aluminiumDust:
      'Fine aluminium dust can burn and explode: keep it out of collectors that catch sparks of steel.',
    waterTable:
      'Fine aluminium or magnesium under water gives off hydrogen: keep the water table clean and aired.',
    fireWatch:
      'Clear away what burns, have an extinguisher at hand, and keep fire watch for half an hour afterwards.',

    zincNoHeat: 'Never anneal zinc-coated sheet: zinc melts at 420 °C and fumes long before red heat.',
    zincFume: 'Zinc fume causes metal fume fever some hours later: extract it at the source.',
    zincStrip: 'Grind or strip the zinc well back from the seam before welding.',
    paintFume: 'Paint and plastic give off poisonous smoke when hot: strip them well back first.',
    coatingUnknown:
      'A coating may hold lead, cadmium or chromium: find out which it is before it is ground, heated or welded.',
    stainlessChromium:
      'Stainless fume holds chromium(VI) and nickel, which cause cancer: extract it at the source and wear breathing protection.',
    brassFume: 'Hot brass and nickel silver give off zinc fume: extract it at the source.',
    nickelFume: 'Nickel silver fume holds nickel, which can cause cancer and allergy.',
    copperFume: 'Copper fume irritates and causes fever: extract it at the source.',
    otherMetal:
      "For a metal of another kind, read the supplier's safety data sheet before it is cut hot, heated or welded.",
    film: 'Peel off the protective film, or order film made for laser cutting: PVC gives off hydrogen chloride, which harms lungs and machine.',
    cuttingFume: 'Fume and light of the cut are harmful: extract at the cut, and shield the eyes.',
    bareOnly: 'Heat only clean, bare metal: paint, oil and film give off harmful fumes.',
    ventilate: 'Work where the fumes are drawn off, or outdoors.',
    weldingFume: 'Welding fume can cause cancer: draw it off at the source, and keep your head out of it.',

    hotProtection: 'Wear heat-proof gloves and goggles.',
    hotLooksCold: 'Hot metal does not look hot: mark it, and use tongs.',
    arc: 'Wear a welding helmet and gloves, leave no skin bare, and screen the arc.',
    freshFromHeat: 'A blank fresh from the cut is hot and does not look it: let it cool.',
    jet: 'The jet goes through flesh: keep hands away, and take any wound from it to a hospital at once.',
    handTools: 'Clamp the sheet, and wear gloves and goggles; with a grinder, ear protection too.',
    quenchOpen: 'Quench open pieces only, never closed or oily ones, and keep clear of the steam.',
    magnesiumNoWater: 'Never put water on hot magnesium.',
    acid: 'Wear gloves, goggles and an apron; add acid to water, never water to acid; rinse well.',
    pickleHydrogen:
      'Steel, aluminium and magnesium give off hydrogen in acid: air the bath, and keep flames away.',
    pickleFluoride:
      'Stainless steel and titanium are pickled with hydrofluoric acid: leave that to a pickling shop.',
    edges: 'Cut edges are sharp: take the burr off, and wear gloves that resist cuts.',
    noise: 'Hammering is loud enough to harm: wear ear protection, and eye protection against chips.',

    steelTooHot: 'Heat steel no further than given: brighter red coarsens its grain and scales it away.',
    stainlessRust:
      'Between about 450 and 850 °C stainless steel loses its protection and rusts along its grains afterwards (sensitisation): no torch.',
    stainlessHard:
      'Stainless steel hardens fast under the hammer and springs back more than mild steel: work it in even courses.',
    aluminiumNoGlow:
      'Aluminium shows no red before it melts, some alloys from 480 °C: never wait for a glow, and never heat it blind.',
    aluminiumFlame: 'On aluminium keep the flame soft and moving: thin edges and corners melt first.',
    copperFlame:
      'On copper use a neutral or slightly oxidising flame: a fuel-rich one makes copper that holds oxygen brittle.',
    coarseGrain:
      'Do not heat copper, brass or nickel silver brighter or longer than needed: the surface roughens like orange peel.',
    brittleHot: 'Do not move or strike brass or nickel silver while it is red: it is brittle when hot.',
    coolToBlack: 'Let brass and nickel silver cool in air until black before quenching.',
    titaniumSkin:
      'No torch on titanium: above about 550 °C it takes up oxygen and its skin turns brittle; have it annealed in a furnace.',
    magnesiumCold: 'Magnesium cracks when it is worked cold: shape it warm, and try a piece first.',
    seasonCracks:
      'Hard-worked brass and nickel silver can crack by themselves near ammonia: anneal the finished tray or relieve it at about 250 °C.',
    zincCracks: 'Heavy gathering can crack a zinc coating: look over the corners, and repair bare spots.',
    reflects: 'This metal may throw laser light back: ask whether the laser is made for it.',

    localRules: 'Local safety rules and qualified practice come first.',
  },
};
