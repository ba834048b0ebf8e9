/**
 * What is said at the bench: before the first blow, stage by stage, and after the last. Loaded when it is asked for.
 *
 * What to do in which order is common practice, no source; figures come from the tray.
 */
export const bench = {
  title: (name: string) => `At the bench: ${name}`,
  /** Of the page that the service makes. */
  keepsNothing: 'This page keeps nothing: print it, and tick and note on the paper.',
  tick: 'Tick off',
  note: 'Note',
  wanted: (value: string) => `should be ${value}`,
  cautions: 'Cautions',
  troubles: 'What goes wrong here',
  trouble: (seen: string, act: string) => `${seen}: ${act}`,
  corner: (letter: string) => `corner ${letter}`,
  side: (letters: string) => `side ${letters}`,

  tools: {
    title: 'Before: tools',
    dolly: 'Dolly, crown radius',
    dollyNote: 'goes into the bottom bend and leaves its radius; a flatter one bridges the bend',
    hammer: 'Hammer, crown radius',
    sagitta: (depth: string, face: string) => `${depth} deep over ${face}`,
    swing: 'Swing, pivot to belt',
    check: 'Check',
    checkList: (least: string, most: string) => [
      `Handle: tight in the eye, without a crack. Face: without chip, nick or sharp edge; round its edge by ${least} to ${most}.`,
      'Dolly: hold it in the bend of a gauge. No light shows in the middle.',
    ],
    grind: 'Grind the crown',
    grindList: (pivot: string) => [
      `Hang the hammer on a swing with its pivot ${pivot} from the belt, and sweep the face across it.`,
      'A swing curves the face one way only: turn the head by a quarter turn, and sweep again until the two meet.',
      'Hold the crown gauge on the face, both ways: the same thin light all along.',
    ],
    polish: 'Polish',
    polishList: [
      'Grit 80, 120, 240, 400, then the buff: go on when no scratch of the grit before is left. Whatever is on the face goes into the sheet.',
      'Prove it on scrap over the dolly: 20 blows leave round marks without an edge. An edge means: grind again.',
    ],
  },

  marking: {
    title: 'Before: marking and cutting',
    size: 'Size to cut',
    diagonal: 'Diagonal over that size',
    trim: 'Trim beyond the net rim',
    visible: 'Make the lines seen',
    seen: {
      bright: 'Wipe the sheet with spirit, brush on marking blue, let it dry, and scribe through it.',
      dark: 'On rusty or scaled sheet scribe first and clean afterwards: the line stays when the rust goes.',
      soft: 'Mark with a fine felt pen, or with a brass point: a scratch across a bend is where soft metal cracks.',
      zinc: 'Mark with a fine felt pen: a scriber goes through the zinc, and the line rusts.',
    },
    lines: 'Mark these lines',
    linesList: {
      cut: (apart: string) =>
        `The cut line: scribe it, and punch it lightly every ${apart}, so that it is found again at the shears.`,
      bends: 'Where the bend begins and ends: scribe lightly, on the inside. They are not cut.',
      marks: (count: string) =>
        `The ${count} marks of the rim to lose, from the edge inwards, on both faces: the tape is laid from mark to mark in every stage.`,
      tucks: (count: string) => `The ${count} tucks, as far in as they are drawn.`,
      blows: (count: string) => `The ${count} rows of blows, as far in as they are drawn.`,
      letters: 'The letter of every corner on the base, in felt pen.',
    },
    cutting: 'Cut',
    byHand: (least: string, most: string, left: string) => [
      `Rough it out first: cut off the tip of every outward corner in one straight cut ${least} to ${most} outside the line.`,
      'Then follow the line: blades upright, scrap on the side where it curls away, never closing the blades to their tips.',
      `Leave ${left} at the corners, and file to the line with the file along the edge.`,
    ],
    byMachine: [
      'Measure length, width and both diagonals of the cut blank against the figures above.',
      'Look along the rim at the corners: file away what burnt on, and every start and end of the cut.',
    ],
    deburr:
      'Take the burr off both faces, and draw the file once along each edge: at a corner a split begins at a nick.',
  },

  stage: {
    title: (number: string, count: string, what: string) => `Stage ${number} of ${count}: ${what}`,
    wall: (angle: string) => `wall to ${angle}°`,
    lip: 'turn the lip',
    angle: 'Wall angle to reach',
    lipAngle: 'Lip',
    level: 'turned',
    gauge: (side: string, corner: string) => `section gauges: ${side}; ${corner}`,
    picture: (name: string, angle: string, most: string) =>
      `${name} from an angle, the wall turned up to ${angle}°. The darker the metal, the more it still has to gather; at the darkest spot ${most} % of its length.`,
    pictureLip: (name: string) => `${name} from an angle, finished, its lip turned.`,
    pictureFlat: (name: string, most: string) =>
      `${name} from an angle, flat. The darker the metal, the more it has to gather; at the darkest spot ${most} % of its length.`,
    order: 'Order of the corners',
    orderNote: 'opposite ones in turn, a little at each, round after round',
    tapeBefore: 'Tape now',
    tapeAfter: 'Tape after',
    toLose: 'To lose here',
    toGain: 'To gain here',
    left: { nothing: 'Still to come', lose: 'Still to lose', gain: 'To gain later' },
    thickness: 'Thickest then',
    thinnest: 'Thinnest then',
    used: (percent: string) => `uses up ${percent} % of the work between anneals`,
    how: 'How to work the corners',
    tucks: (count: string, where: string, takeUp: string, depth: string, height: string) =>
      `Set ${count === '1' ? '1 tuck' : `${count} tucks`}, ${where}, ${depth} deep from the edge: each takes up ${takeUp} here. None stands higher than ${height}; if it would, knock it down and set it again.`,
    knockDown:
      'Close each tuck at the rim first, so that it cannot run out again; then knock it down from its inner end to the rim. Dolly inside, square blows on the dolly, flat face, light and close together.',
    blows: (count: string, where: string, takeUp: string, depth: string, height: string) =>
      `Strike along the ${count === '1' ? 'marked row' : `${count} marked rows`}, ${where}, from ${depth} inside the edge out to it: each row takes up ${takeUp} here. Pass over all rows before the next pass; no wave between them stands higher than ${height}.`,
    offDolly:
      'Dolly inside, where the wall touches it; the blow falls just beside that spot (off the dolly), glancing towards the base. Then square and light on the dolly, until the wave is gone.',
    stop: 'Stop at a corner when the tape from mark to mark reads its figure and the corner gauge lies on. More blows only stretch it.',
    gain: (tape: string) =>
      `Stretch here: square blows on the dolly, evenly from the bend to the rim, until the tape from mark to mark reads ${tape}.`,
    away: 'Stretch evenly with square blows on the dolly; nothing is taped here.',
    sides: 'Sides',
    sideRadius: 'Bend over a radius of',
    sideHeld: 'Bend to',
    sideLeft: (left: string) => `let go they stand at ${left}°`,
    sideHow:
      'Straight sides only bend: hold a block along the bend line, and strike with a mallet or a wide flat face, coarse and from the middle outwards, never on the wall above the bend.',
    sideFirst: 'Turn all sides up together, a little each time, and the corners after them: gentle there.',
    sideCheck: 'Check at the middle of each side with both gauges: under the hammer, and let go.',
    lipHow:
      'Strike the lip over the edge of a stake or a hardwood block, from the middle of each side to the corners, in several rounds.',
    anneal: 'Anneal',
    annealNow: 'Anneal here',
    degrees: (low: string, high: string) => `${low} to ${high} °C`,
    trouble: {
      kick: [
        'The edge kicks out, or stands up in a spike',
        'stop, push it back into the metal around it with soft blows, and go on with smaller tucks',
      ],
      wave: [
        'A wave folds over',
        'stop, open it over the dolly with soft blows, and go on with smaller passes',
      ],
      crease: [
        'A crease forms at the bend',
        'the dolly is too flat or the blows fall too low: take the dolly of the radius above, and strike above the bend',
      ],
      split: [
        'The rim splits',
        'a nick, too hard metal or a tuck folded over: drill the end of the split, file the edge smooth, and anneal before you go on, earlier the next time',
      ],
      splitCold: [
        'The rim splits',
        'a nick, or a tuck folded over: drill the end of the split, file the edge smooth, and go on in smaller steps; this sheet must not be heated',
      ],
      bow: [
        'The base bows',
        'lay it on a flat block and flatten it from the middle outwards with soft blows, before the next stage',
      ],
      tear: [
        'The metal thins and pales where it stretches',
        'stop before it tears: spread the blows over more of the wall',
      ],
    },
    noteWall: (where: string) => `Wall angle, ${where}`,
    noteTape: (where: string) => `Tape, ${where}`,
  },

  trim: {
    title: 'After: trim',
    height: 'Height above the plate',
    heightOf: (sides: string) => `Height above the plate, ${sides}`,
    tape: 'Tape round the trimmed rim, outside',
    lip: 'Lip, from the wall outside to its edge',
    off: 'To cut off',
    how: 'Scribe and cut',
    steps: (height: string) => [
      'Stand the tray on a flat plate, base down; weigh the base down so that it does not rock.',
      `Set a scribing block to ${height}, and scribe all round on the outside of the formed wall. Go round twice: one line means that the tray did not rock.`,
    ],
    stepsLip: (width: string) => [
      `Set a marking gauge to ${width}, and scribe all round from the wall outside to the edge of the lip.`,
    ],
    cut: (outside: string, off: string) => [
      `Cut ${outside} outside the line: the sides in long cuts, a corner in short ones that turn with it. Gathered corners are thicker than the sheet: take a saw or nibbler where the shears labour.`,
      'File to the line, along the edge and never across it, then round both edges.',
      `Within ± ${off} of the height all round is good work.`,
    ],
    noteHeight: (where: string) => `Height, ${where}`,
    noteTape: 'Tape round the rim',
  },

  straighten: {
    title: 'After: straighten',
    height: 'Height all round',
    places: (list: string) => `measured at ${list}`,
    check: 'Check sheet',
    rock: 'Rock on the plate, by feeler',
    twist: 'Twist: height of the lifted corner',
    wall: 'Wall not straight',
    wallList: [
      'Bulges outwards: its middle is too long. Shrink along the rim there, or stretch the wall just above the bend at both ends.',
      'Hollow: the rim is too short. Stretch along the rim with square blows on the dolly.',
    ],
    wind: 'Twisted (one corner lifts off the plate)',
    windList: [
      'Stretch the two walls that meet at the lifted corner, just above the bend, or shrink the rim at the two corners beside it; a little, and lay it on the plate again.',
    ],
    base: 'Base pops in and out',
    baseList: [
      'It is longer in the middle than its border allows. Stretch the border: square blows on a dolly all along the bend, inside the base. Never beat on the middle: that makes it longer still.',
      'Bowed and firm: flatten from the middle outwards on a block, soft mallet.',
    ],
    noteHeight: (where: string) => `Height, ${where}`,
  },

  weld: {
    title: 'After: splits and welds',
    drill: 'Stop-drill',
    drillNote: 'at the very end of the split, from both faces',
    clean: 'Clean beside a seam',
    step: 'Corner thicker than the sheet by',
    split: 'A split',
    splitList: [
      'Drill its end, file it open to a V, weld it, and dress the weld flat before you go on; anneal there where the sheet may be heated.',
      'It is scrap when a split runs into the bend, when two of them meet, or when the metal beside it is thinner than half the sheet.',
    ],
    strip: 'A strip on the rim',
    stripList: (step: string, gap: string) => [
      'Fit: the strip touches all round, with no gap wider than half its thickness.',
      `The corner is thicker than the strip by up to ${step}: keep the inside flush, and taper the step outside over four times its height.`,
      `Tack by halves: two tacks opposite each other, then halfway between, and so on until no gap is longer than ${gap}. Weld in short runs, opposite places in turn.`,
    ],
    notch: 'The notched corners',
    notchList: [
      'Fit the edges, clamp the corner square, tack at the rim and at the root, then halfway between.',
      'Weld from the root to the rim. Dress it only where it has to be flat.',
    ],
    test: 'Leak test',
    testList: [
      'Brush chalk on the outside, wet the seam inside with paraffin, and wait ten minutes: a leak shows as a dark spot.',
    ],
    finish: 'Descale and protect',
    finishList: {
      steel: 'Brush or blast the scale off, degrease, and prime within the hour: bare steel rusts overnight.',
      zinc: (beyond: string) =>
        `Brush the burnt zinc off the seam, and give it two coats of zinc-rich paint, ${beyond} beyond the bare spot.`,
      bright: 'Brush the heat tint off with a brush of the same metal, rinse, and dry.',
      stainless:
        'Take the heat tint off with a brush of stainless steel, never of plain steel; what stays coloured will rust.',
    },
  },
};

export type BenchWords = typeof bench;
