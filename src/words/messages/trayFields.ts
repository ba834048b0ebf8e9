/**
 * What is said of the fields of a tray file: what each one means, as an editor shows it beside the field, and what
 * would be accepted in its place, as a noun phrase that goes after "give".
 */
export const trayFields = {
  /** Title and description of the schema. */
  title: 'Tray file',
  tray: 'A tray of one piece, shaped by hand from flat sheet.',

  /** What a field means. */
  described: {
    withUnit: (description: string, unit: string) => `${description} Unit: ${unit}.`,
    schemaAddress: 'Where the JSON Schema of tray files is, for editors.',
    name: 'Name of the tray; the names of its files are made from it. From the file name when left out.',
    units: 'Unit of every length in this file: mm or in.',
    shownIn:
      'Unit of the figures, papers and pictures made of the tray: mm or in; that of the file when left out.',
    measured: 'The skin of the sheet that lengths, radii and heights refer to.',

    // Sheet
    sheet: 'The sheet the tray is made of.',
    material: 'Name of a material of the table, or a material in full.',
    materialName: 'Name of a material of the table, for example DC04.',
    customMaterial: 'A sheet material in full, in place of a name.',
    customName: 'What to call the material on drawings.',
    family:
      'What metal it is; it chooses the cautions. When left out, the cautions of every metal are given.',
    coating:
      'How it is coated: "zinc" stands for its alloys too, "paint" for lacquer and plastic too. When left out, the cautions of every coating are given.',
    K: 'Swift hardening, flow stress = K (epsilon0 + strain)^n: strength K.',
    epsilon0: 'Swift hardening: strain offset.',
    n: 'Swift hardening: exponent.',
    r0: 'Lankford coefficient along the rolling direction.',
    r45: 'Lankford coefficient at 45 degrees to the rolling direction.',
    r90: 'Lankford coefficient across the rolling direction.',
    strengths:
      'Strengths by direction, each a yield stress over that along the rolling direction. When left out, the r-values dictate them, which overstates the grain.',
    strengthAt45: 'Yield stress at 45 degrees to the rolling direction, over that along it.',
    strengthAt90: 'Yield stress across the rolling direction, over that along it.',
    biaxialStrength:
      'Yield stress in balanced biaxial tension, over that along the rolling direction. When left out, Hosford’s for the mean r-value and the crystal.',
    biaxialR:
      'Strain across over strain along the rolling direction in balanced biaxial tension. r0 over r90 when left out.',
    crystal:
      'How the atoms lie, which sets the exponent of the law: "bcc" 6, "fcc" 8. May be left out for steel, aluminium, copper, brass and nickel silver.',
    density: 'Density, the same number as in g/cm³.',
    youngsModulus: "Young's modulus.",
    yieldStrength: 'Yield strength Re or Rp0.2.',
    tensileStrength: 'Tensile strength Rm.',
    uniformElongation: 'Uniform elongation, engineering strain.',
    strainBudget:
      'Logarithmic equivalent strain the sheet takes between anneals; from the uniform elongation when left out.',
    annealedStrainBudget:
      'The same once the sheet has been annealed, for one that is sold hard: it is then annealed before the first stage. The strain budget when left out.',
    temperature: 'A temperature.',
    annealTemperature:
      'Lowest and highest annealing temperature in °C; left out when it must not be annealed.',
    thickness: 'Thickness of the sheet.',
    thicknessOrGauge: 'Thickness of the sheet, or a gauge number and its system.',
    thicknessByGauge: 'Thickness by gauge number of a named system.',
    gauge: 'Gauge number.',
    gaugeSystem: (systems: string) =>
      `The gauge system, because one number means different thicknesses: ${systems}.`,
    grain: 'Rolling direction, counter-clockwise from the x axis of the plan.',

    // Forming and cutting
    forming: 'How it is formed.',
    trim: 'Extra wall or lip beyond the net rim, worked with it and cut off after forming: a length, or "auto" for as much as the rims of different hands lie apart. 4 mm when left out.',
    trimLength: 'Extra wall or lip beyond the net rim, worked with it and cut off after forming.',
    trimAuto: 'As much as the rims of different hands lie apart.',
    hand: 'Share of the gather that goes up the wall, from 0 (all of it into thickness) to 1 (all of it up the wall). The sheet’s own when left out.',
    spread: 'Area gained by planishing where the sheet is worked, % of that area. 0 when left out.',
    zoneThreshold:
      'Gather, % of length, from which contours are drawn on the blank. 2 when left out; rim to lose, tucks and stages always go by 2.',
    stages:
      'Angles from the base’s plane to which the wall is turned up, stage by stage, the last one being its own; thirds of that when left out.',
    stage: 'Angle of the wall from the base’s plane.',
    gathering:
      'How the gather is worked in: set in tucks that are knocked down (tucks), or shrunk over the dolly blow by blow, without tucks (blows). "tucks" when left out.',
    corners: 'How the corners are made, all alike or one by one. "gather" when left out.',
    cornersOneByOne: 'One for every corner of the plan, in their order.',
    cornersByLetter: 'By the letter of the corner; those left out are gathered.',
    making: 'In one piece (gather), or cut out so that the sides meet at a mitre and are welded (notch).',
    weldGap:
      'Gap between the edges of a notched corner for the weld, measured square to them. 0 when left out.',
    notchRelief:
      'Diameter of the hole at the root of a notched corner, which keeps weld and cut clean. 2 mm when left out.',
    cut: 'How the blank is cut out.',
    process: 'How the blank is cut.',
    kerf: 'Width of the cut. 0.2 mm when left out.',
    compensate:
      'Move the outline out by half the kerf. Cutting services usually do that themselves: leave it false unless the cutter asks for it.',

    // Plan
    plan: 'The plan of the walls: a rectangle, a polygon with straight and bulged edges, or a drawing.',
    side: 'A side of a rectangle.',
    sideByName: 'Seen from above: top at +y, left at -x, bottom at -y, right at +x.',
    sideByNumber: 'The same as a number: 0 top, 1 left, 2 bottom, 3 right.',
    sideByLetters:
      'By the letters of its two corners, such as "A–B" or "A-B". Corners are lettered counter-clockwise in the order of this file; A of a rectangle is at +x +y, so that A–B is its top.',
    polygonSide: 'A side of the plan.',
    edge: 'The same as a number: that of the corner it starts from, counted from 0.',
    openEdges: 'Sides without a wall. All have one when left out.',
    rectangle: 'A rectangle, centred on the origin, length along x.',
    length:
      'Along the x axis, wall to wall; with draft, between the lines where the planes of base and walls would meet.',
    width: 'Along the y axis, measured like the length.',
    rectangleRadius:
      'Corner radius of the plan, on the measured skin: one for all, or four counter-clockwise from +x +y. May be left out when no corner is rounded.',
    rectangleRadiusOfAll: 'The same at all corners; those next to an open side or notched are not rounded.',
    rectangleRadii: 'Counter-clockwise from the corner at +x +y, A, B, C, D.',
    rectangleRadiiByLetter:
      'By the letter of the corner, A at +x +y and on counter-clockwise; those left out are not rounded.',
    rectangleRadiusOfOne: 'Radius of one corner, 0 next to an open side or notched.',
    openSides: 'Sides without a wall. All have one when left out.',
    sharedRadius:
      'Radius of every corner that has none of its own, where one is needed: not at smooth joints, open or notched corners.',
    polygon: 'Any plan of straight and bulged edges that does not cross itself, counter-clockwise.',
    vertices: 'Vertices of the plan, counter-clockwise, the first not repeated at the end.',
    vertex: 'A vertex of the plan and the edge that starts there.',
    vertexX: 'To the right.',
    vertexY: 'Up.',
    vertexRadius:
      'Corner radius here, on the measured skin; 0 or left out where edges meet smoothly and at open or notched corners.',
    bulge:
      'Bends the edge from here to the next vertex into an arc: the tangent of a quarter of its sweep, tan(sweep / 4), as in DXF. 1 is a half circle, 0.41421356 a quarter circle; positive outwards, negative inwards.',
    drawnPlan:
      'A plan drawn elsewhere. Corners are lettered counter-clockwise from the start of the entity that is drawn first.',
    dxf: 'Path of a DXF drawing of the plan, from the folder of this file: one closed chain of lines, arcs, ellipses, splines and polylines, or a circle. Circles, slots and polygons inside it on the same layer become holes in the base.',
    layer: 'The layer to read; all of them when left out.',
    loop: 'Which of several outlines beside each other is the plan, from 1, the largest first.',
    drawingUnits:
      'The unit of a drawing that names none. That of this file when left out, which is said in a note.',

    // Section
    section: 'What a cut across the wall shows.',
    bottomRadius: 'Radius between base and wall, on the measured skin.',
    height:
      'From the base to the rim, on the measured skin; with a lip, to its measured skin. May be left out when heights gives every side one.',
    draft: 'Lean of the wall outwards from upright.',
    rim: 'How the wall ends. Plain when left out.',
    plain: 'The wall simply ends.',
    lip: 'The wall is turned into a level lip.',
    lipDirection: 'Which way the lip is turned, seen from the middle of the tray.',
    lipBendRadius: 'Radius between wall and lip, on the measured skin.',
    lipWidth:
      "From the wall's measured skin to the lip's edge; with draft, from where the planes of wall and lip would meet.",
    heights: 'Height of the wall at each side, where they differ.',
    heightsByEdge: 'One for every side, in their order: A–B, B–C and so on.',
    heightOfEdge: 'Height at one side.',
    heightsBySide:
      'By side: the letters of its two corners, such as "A–B" or "A-B", or top, left, bottom and right of a rectangle. Those left out have the height of the section.',
    heightOfSide: {
      top: 'Height of the top side.',
      left: 'Height of the left side.',
      bottom: 'Height of the bottom side.',
      right: 'Height of the right side.',
    },
    runOut:
      'How far beyond a corner, along the straight sides, the rim runs from one height to the other. 0 when left out.',

    // Holes
    holes: 'Holes, given on the finished tray: they land where asked after forming.',
    hole: 'A hole.',
    holeName: 'What the hole is called in reports. hole-1, hole-2 … when left out.',
    holeShape: 'Shape of the hole on the finished tray.',
    round: 'A round hole.',
    diameter: 'Diameter of the hole.',
    slot: 'A slot with round ends.',
    slotLength: 'From end to end, the round ends included.',
    slotWidth: 'Across, twice the radius of the ends.',
    slotAngle:
      "Direction of the length, counter-clockwise from x on the base, from the edge's direction on a wall.",
    holePolygon: 'A hole with straight edges.',
    holePoints: "Corners about the hole's place, counter-clockwise.",
    holePoint: 'A corner of the hole.',
    holePointX: "Along the place's first direction.",
    holePointY: "Along the place's second direction; up on a wall.",
    place: 'Where the middle of the hole is on the finished tray.',
    onBase: 'A hole in the flat of the base.',
    onBaseX: "Of the hole's middle.",
    onBaseY: "Of the hole's middle.",
    onWall: 'A hole in the straight wall above an edge.',
    wallEdge: 'The side the wall stands at: by letters or number, or by name where the plan is a rectangle.',
    wallAlong:
      "Of the hole's middle, along the edge from its middle between two vertices, counter-clockwise.",
    wallHeight: "Of the hole's middle, above the base's measured skin.",
  },

  /** What would be accepted. */
  accepted: {
    // Any field
    range: (least: string, most: string) => `a number from ${least} to ${most}`,
    rangeOf: (least: string, most: string, unit: string) => `a number from ${least} to ${most} ${unit}`,
    degrees: 'degrees',
    withoutMarks: (accepted: string) => `${accepted}, without quotation marks`,
    withPoint: (accepted: string) => `${accepted}, with a decimal point and without quotation marks`,
    oneOf: (list: string, last: string) => `${list} or ${last}`,
    atMostCharacters: (accepted: string, most: string) => `${accepted}, at most ${most} characters long`,
    shownCharacters: (accepted: string) => `${accepted}, in characters that show`,
    trueOrFalse: 'true or false',
    name: 'a name of up to 80 characters on one line',
    schemaAddress: 'the address of the JSON Schema',
    tray: 'an object with name, plan, section and sheet',

    // Sheet
    sheet: 'an object with material and thickness',
    material: 'the name of a material, or an object with its properties',
    customName: 'a name for the material',
    strengths: 'an object with at45 and at90',
    temperatures: 'a list of two temperatures in °C, the lower one first',
    gauge: 'a whole gauge number from 0 to 36',
    gaugeObject: 'a number, or an object with gauge and system',
    thickness: {
      mm: 'a number in mm, or an object with gauge and system',
      in: 'a number in inches, or an object with gauge and system',
    },

    // Forming and cutting
    forming: 'an object with trim',
    trim: { mm: 'a number in mm, or "auto"', in: 'a number in inches, or "auto"' },
    stages: 'a list of angles in degrees',
    fewestStages: 'a list of at least one angle',
    mostStages: (most: string) => `a list of at most ${most} angles`,
    corners:
      '"gather" or "notch", a list of them, one for every corner, or an object by the letters of corners',
    cut: 'an object with process, kerf and compensate',

    // Plan
    plan: 'an object with length, width and cornerRadius, with vertices, or with dxf',
    rectangle: 'an object with length, width and cornerRadius',
    radii: 'one radius, a list of four, or an object with A, B, C and D',
    fourRadii: 'a list of four radii',
    side: '"top", "left", "bottom" or "right", or the letters of a side such as "A–B"',
    openSides: 'a list of open sides, each "top", "left", "bottom", "right" or its letters such as "A–B"',
    edge: (most: string) =>
      `the letters of a side such as "A–B", or a whole number from 0 to ${most}, that of the corner it starts from`,
    openEdges: 'a list of sides, each by its letters such as "A–B"',
    polygon: 'an object with vertices',
    vertex: 'an object with x, y and radius',
    vertices: 'a list of vertices, each with x, y and radius',
    fewestVertices: (least: string) => `a list of at least ${least} vertices`,
    mostVertices: (most: string) => `a list of at most ${most} vertices`,
    drawnPlan: 'an object with dxf',
    dxf: 'the path of a DXF drawing of the plan',
    layer: 'the name of a layer',
    loop: 'the number of an outline, from 1, the largest first',

    // Section
    section: 'an object with bottomRadius and height',
    rimKind: '"plain" or "lip"',
    rim: 'an object with kind',
    heights:
      'a list of heights, one for every side, or an object by the letters of sides such as "A–B" (of a rectangle also top, left, bottom and right)',

    // Holes
    holes: 'a list of holes, each with shape and place',
    mostHoles: (most: string) => `a list of at most ${most} holes`,
    hole: 'an object with shape and place',
    holeName: 'a name for the hole',
    shapeKind: '"round", "slot" or "polygon"',
    shape: 'an object with kind and sizes',
    holePoints: (least: string, most: string) => `a list of ${least} to ${most} corners, each with x and y`,
    holePoint: 'an object with x and y',
    placeOn: '"base" or "wall"',
    place: 'an object with on and a position',
    wallEdge: 'the letters of a side such as "A–B", its number, or the name of a side of a rectangle',
  },

  /** The sheets a gauge system is used for, and how that is put beside its name. */
  gauges: {
    system: (name: string, usedFor: string) => `${name} (${usedFor})`,
    usedFor: {
      'Manufacturers Standard': 'uncoated steel',
      'Galvanized Sheet': 'zinc-coated steel, zinc included',
      'US Standard': 'stainless steel',
      'Brown and Sharpe': 'aluminium, copper, brass',
      SWG: 'aluminium, copper, brass and wire in Britain',
      BG: 'steel sheet in Britain',
    },
  },
};
