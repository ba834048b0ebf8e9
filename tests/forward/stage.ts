/**
 * The surface that a sheet lies on at one stage of its way into a tray: a plan loop times a section, in closed form,
 * with the nearest point to any point in space. Nothing of it is taken from the program.
 *
 * The loop is a rectangle with rounded corners, centred on the origin: half its straight lengths and the radius of its
 * corners (a circle where the lengths are 0). The section leaves it square to it, turns up and goes on without an end.
 * mm, radians.
 */

/** A rounded rectangle, half of it to the beginnings of the corners. */
export interface Loop {
  readonly halfLength: number;
  readonly halfWidth: number;
  readonly radius: number;
}

/** Pieces of a section in order from the loop: turned by an angle over a radius, or straight. The last one is endless. */
export type Turn =
  | { readonly radius: number; readonly angle: number }
  | { readonly radius: null; readonly length: number };

export interface Stage {
  readonly loop: Loop;
  readonly turns: readonly Turn[];
}

/** A tray as the judge knows it: upright or leaning walls, perhaps with a lip turned out above them. */
export interface JudgedTray {
  readonly loop: Loop;
  readonly bendRadius: number;
  /** Angle of the finished wall, π/2 for an upright one. */
  readonly wallAngle: number;
  readonly lip?: {
    /** Length of the straight wall between the bends. */
    readonly wall: number;
    readonly radius: number;
    readonly angle: number;
  };
}

/** The surface with the wall turned up to `angle` and the lip turned out by `lip`. */
export function stageAt(tray: JudgedTray, angle: number, lip = 0): Stage {
  const turns: Turn[] = [{ radius: tray.bendRadius, angle }];
  if (tray.lip !== undefined && lip > 0)
    turns.push({ radius: null, length: tray.lip.wall }, { radius: -tray.lip.radius, angle: lip });
  return { loop: tray.loop, turns };
}

/**
 * The stages of a tray, flat left out. A ring at run ρ of a corner loses about 1 − cos of the wall's angle of its
 * length, so that equal steps of the cosine are equal steps of strain.
 */
export function stagesOf(tray: JudgedTray, steps: number): Stage[] {
  const turned = (end: number, k: number): number => Math.acos(1 - (k / steps) * (1 - Math.cos(end)));
  const stages = Array.from({ length: steps }, (_, k) => stageAt(tray, turned(tray.wallAngle, k + 1)));
  if (tray.lip === undefined) return stages;
  const { angle } = tray.lip;
  return [
    ...stages,
    ...Array.from({ length: steps }, (_, k) => stageAt(tray, tray.wallAngle, (angle * (k + 1)) / steps)),
  ];
}

/** A point of a surface, its normal (upwards from the base, inwards from a wall) and its two tangents and curvatures. */
export interface Contact {
  readonly point: readonly [number, number, number];
  /** Along the loop, and along the section. */
  readonly along: readonly [number, number, number];
  readonly up: readonly [number, number, number];
  readonly normal: readonly [number, number, number];
  /** Towards the normal, 1/mm. */
  readonly curvatureAlong: number;
  readonly curvatureUp: number;
  /** Where it lies when the section is laid out flat: its place in the plan. */
  readonly laidOut: readonly [number, number];
  /** Length of the section from the loop; negative on the base. */
  readonly developed: number;
}

interface Foot {
  /** Nearest point of the loop, outward normal there and signed distance from it. */
  readonly x: number;
  readonly y: number;
  readonly normalX: number;
  readonly normalY: number;
  readonly distance: number;
  /** Whether the nearest point is on a corner. */
  readonly corner: boolean;
}

/** The nearest point of the loop. */
function foot({ halfLength, halfWidth, radius }: Loop, x: number, y: number): Foot {
  const [signX, signY] = [x < 0 ? -1 : 1, y < 0 ? -1 : 1];
  const [px, py] = [Math.abs(x) - halfLength, Math.abs(y) - halfWidth];
  if (px > 0 && py > 0) {
    const away = Math.hypot(px, py);
    const [nx, ny] = [px / away, py / away];
    return {
      x: signX * (halfLength + radius * nx),
      y: signY * (halfWidth + radius * ny),
      normalX: signX * nx,
      normalY: signY * ny,
      distance: away - radius,
      corner: true,
    };
  }
  if (px > py)
    return {
      x: signX * (halfLength + radius),
      y,
      normalX: signX,
      normalY: 0,
      distance: px - radius,
      corner: false,
    };
  return {
    x,
    y: signY * (halfWidth + radius),
    normalX: 0,
    normalY: signY,
    distance: py - radius,
    corner: false,
  };
}

interface Piece {
  readonly turn: Turn;
  readonly length: number;
  readonly angle: number;
  readonly run: number;
  readonly height: number;
  readonly developed: number;
}

/** Where the pieces of a section begin, with the endless one after them. */
function pieces({ turns }: Stage): Piece[] {
  const out: Piece[] = [];
  let [angle, run, height, developed] = [0, 0, 0, 0];
  for (const turn of turns) {
    if (turn.radius === null) {
      out.push({ turn, length: turn.length, angle, run, height, developed });
      run += turn.length * Math.cos(angle);
      height += turn.length * Math.sin(angle);
      developed += turn.length;
    } else {
      const { radius } = turn;
      const length = Math.abs(radius) * turn.angle;
      out.push({ turn, length, angle, run, height, developed });
      const end = angle + length / radius;
      run += radius * (Math.sin(end) - Math.sin(angle));
      height -= radius * (Math.cos(end) - Math.cos(angle));
      angle = end;
      developed += length;
    }
  }
  const endless: Turn = { radius: null, length: Number.POSITIVE_INFINITY };
  out.push({ turn: endless, length: endless.length, angle, run, height, developed });
  return out;
}

interface OnSection {
  readonly run: number;
  readonly height: number;
  readonly angle: number;
  readonly curvature: number;
  readonly developed: number;
}

function onPiece({ turn, angle, run, height, developed }: Piece, length: number): OnSection {
  if (turn.radius === null)
    return {
      run: run + length * Math.cos(angle),
      height: height + length * Math.sin(angle),
      angle,
      curvature: 0,
      developed: developed + length,
    };
  const { radius } = turn;
  const end = angle + length / radius;
  return {
    run: run + radius * (Math.sin(end) - Math.sin(angle)),
    height: height - radius * (Math.cos(end) - Math.cos(angle)),
    angle: end,
    curvature: 1 / radius,
    developed: developed + length,
  };
}

/** Length along a piece of its point that is nearest to a point of the section's plane. */
function nearestLength({ turn, angle, run, height, length }: Piece, p: number, z: number): number {
  let at: number;
  if (turn.radius === null) at = (p - run) * Math.cos(angle) + (z - height) * Math.sin(angle);
  else {
    const { radius } = turn;
    const sign = Math.sign(radius);
    const centreRun = run - radius * Math.sin(angle);
    const centreHeight = height + radius * Math.cos(angle);
    const direction = Math.atan2(sign * (p - centreRun), sign * (centreHeight - z));
    at = radius * (direction - angle);
  }
  return Math.min(length, Math.max(0, at));
}

const onBase = (run: number): OnSection => ({ run, height: 0, angle: 0, curvature: 0, developed: run });

export class Surface {
  readonly #loop: Loop;
  readonly #pieces: readonly Piece[];

  constructor(stage: Stage) {
    this.#loop = stage.loop;
    this.#pieces = pieces(stage);
  }

  /** The point of the surface nearest to a point in space. */
  nearest(x: number, y: number, z: number): Contact {
    const at = foot(this.#loop, x, y);
    let best = onBase(Math.min(0, at.distance));
    let least = Math.hypot(best.run - at.distance, z);
    for (const piece of this.#pieces) {
      const candidate = onPiece(piece, nearestLength(piece, at.distance, z));
      const distance = Math.hypot(candidate.run - at.distance, candidate.height - z);
      if (distance < least) [least, best] = [distance, candidate];
    }
    return this.#contact(at, best);
  }

  /** The point that lies at a place of the plan when the section is laid out flat. */
  from(x: number, y: number): Contact {
    const at = foot(this.#loop, x, y);
    if (at.distance <= 0) return this.#contact(at, onBase(at.distance));
    const piece = this.#pieces.findLast(({ developed }) => developed <= at.distance)!;
    return this.#contact(at, onPiece(piece, at.distance - piece.developed));
  }

  #contact(at: Foot, on: OnSection): Contact {
    const { x, y, normalX, normalY, corner } = at;
    const { run, height, angle, curvature, developed } = on;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const base = developed <= 0;
    return {
      point: [x + normalX * run, y + normalY * run, height],
      along: base ? [0, 1, 0] : [-normalY, normalX, 0],
      up: base ? [1, 0, 0] : [normalX * c, normalY * c, s],
      normal: base ? [0, 0, 1] : [-normalX * s, -normalY * s, c],
      curvatureAlong: corner && !base ? s / (this.#loop.radius + run) : 0,
      curvatureUp: base ? 0 : curvature,
      laidOut: [x + normalX * developed, y + normalY * developed],
      developed,
    };
  }
}

/**
 * The stages of a drawn cup: a punch with the loop's plan and `bend` for its nose goes down, the flange stays level, a die
 * of radius `die` stands one sheet away. Both turn the sheet by the same angle until the wall between them is upright,
 * then the wall grows. Equal steps of depth.
 */
export function drawnStages(loop: Loop, bend: number, die: number, depth: number, steps: number): Stage[] {
  const sum = bend + die;
  // With the arcs' centres `sum` apart, the wall at an angle is sum·(1 − sin)/cos long.
  const slope = (angle: number): number => (sum * (1 - Math.sin(angle))) / Math.cos(angle);
  const depthAt = (angle: number): number => sum * (1 - Math.cos(angle)) + slope(angle) * Math.sin(angle);
  return Array.from({ length: steps }, (_, k) => {
    const wanted = (depth * (k + 1)) / steps;
    let angle = Math.PI / 2;
    let wall = wanted - sum;
    if (wall < 0) {
      let [low, high] = [0, Math.PI / 2];
      for (let i = 0; i < 50; i++) {
        const middle = (low + high) / 2;
        if (depthAt(middle) < wanted) low = middle;
        else high = middle;
      }
      angle = low;
      wall = slope(angle);
    }
    return {
      loop,
      turns: [
        { radius: bend, angle },
        { radius: null, length: wall },
        { radius: -die, angle },
      ],
    };
  });
}
