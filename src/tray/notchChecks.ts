/** Whether notched corners leave room for the hole at their root, for the cut and for the weld gap. Lengths in mm. */
import type { Fault } from '../errors.ts';
import { distanceTo } from '../geometry/edgeMeasures.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { words } from '../words/language.ts';
import { cornerLetter } from './cornerLetter.ts';
import { distanceToHole } from './holeChecks.ts';
import { movedSegment } from './loopChecks.ts';
import { type NotchRoot, notchRelief, notchRoots, slotWidth } from './notches.ts';
import { type LengthText, ROUNDING } from './planChecks.ts';
import { planLoop, shortOfMitre } from './planLoop.ts';
import { neutralSection, type SectionPoint, sectionPoint } from './section.ts';
import { edgeName } from './sentences.ts';
import type { TraySpec } from './spec.ts';

/** An end of the base's edge nearer than this to a root is the root, mm. */
const OWN = 1e-6;

/** The first fault of notched corners, in the order of the corners. */
export function notchFaults(spec: TraySpec, text: LengthText): Fault[] {
  const roots = notchRoots(spec);
  if (roots.length === 0) return [];
  const wall = endOfWall(spec);
  const gap = gapFaults(spec, wall, text);
  if (gap.length > 0) return gap;
  return roots.flatMap((root) => cutFaults(spec, root, roots, wall, text)).slice(0, 1);
}

/** Where the wall ends below a lip, for the lowest of the heights. */
function endOfWall(spec: TraySpec): SectionPoint {
  const section = neutralSection(spec);
  const lowest = Math.min(section.nominalHeight, ...(spec.section.heights ?? []));
  const extra = (lowest - section.nominalHeight) * section.wallPerHeight;
  const piece = Math.max(0, section.wallPiece);
  const at: SectionPoint = { run: 0, height: 0, angle: 0, developed: 0 };
  return sectionPoint(section.pieces[piece]!, 1, at, piece === section.wallPiece ? extra : 0);
}

/** Walls of which the gaps at their two ends leave nothing. */
function gapFaults(spec: TraySpec, { run }: SectionPoint, text: LengthText): Fault[] {
  const gap = spec.forming.weldGap ?? 0;
  const say = words().messages.tray.notch;
  return planLoop(spec).segments.flatMap((segment): Fault[] => {
    if (segment.kind !== 'side' || !segment.wall) return [];
    const mitres = [segment.mitreAtStart, segment.mitreAtEnd].filter((mitre) => mitre !== 0);
    if (mitres.length === 0) return [];
    const long = segment.length + mitres.reduce((sum, mitre) => sum + mitre * run, 0);
    const short = mitres.reduce((sum, mitre) => sum + shortOfMitre(1, mitre), 0);
    if (long - gap * short >= spec.sheet.thickness - ROUNDING) return [];
    const most = Math.max(0, (long - spec.sheet.thickness) / short);
    const path = 'forming.weldGap';
    const side = edgeName(spec, segment.index);
    return [{ path, message: say.gapTooWide(path, text.exact(gap), side, text.atMost(most)) }];
  });
}

function cutFaults(
  spec: TraySpec,
  root: NotchRoot,
  roots: readonly NotchRoot[],
  wall: SectionPoint,
  text: LengthText,
): Fault[] {
  const say = words().messages.tray.notch;
  const corner = cornerLetter(root.corner);
  const slot = slotWidth(spec);
  // Over the bend the edges run towards the mitre, above it they go on as they stand: apart by the angle of the corner.
  const sine = Math.sqrt(1 - 1 / root.perSetback ** 2);
  const apart = (spec.forming.weldGap ?? 0) + 2 * sine * Math.max(0, wall.developed - wall.run);
  if (apart < slot) {
    const path = 'cut.kerf';
    const most = text.atMost(Math.max(0, spec.cut.kerf - (slot - apart)));
    return [
      { path, message: say.partTooLittle(path, text.exact(spec.cut.kerf), corner, text.exact(apart), most) },
    ];
  }
  const room = 2 * Math.min(roomOnBase(spec, root, roots), wall.developed - spec.sheet.thickness);
  const relief = notchRelief(spec);
  if (relief <= room + ROUNDING) return [];
  if (room < slot) return [{ path: 'forming.corners', message: say.noRoom('forming.corners', corner) }];
  const path = 'forming.notchRelief';
  return [{ path, message: say.reliefTooLarge(path, text.exact(relief), corner, text.atMost(room)) }];
}

/** Largest radius of the hole that leaves the thickness to what is not its own: edges, holes and other roots. */
function roomOnBase(spec: TraySpec, root: NotchRoot, roots: readonly NotchRoot[]): number {
  const { thickness } = spec.sheet;
  let room = Infinity;
  for (const other of roots) {
    if (other === root) continue;
    room = Math.min(room, (hypotenuse(other.x - root.x, other.y - root.y) - thickness) / 2);
  }
  for (const segment of planLoop(spec).segments) {
    const edge = movedSegment(segment, 0);
    if (edge === null) continue;
    const ends = [
      hypotenuse(edge.x0 - root.x, edge.y0 - root.y),
      hypotenuse(edge.x1 - root.x, edge.y1 - root.y),
    ];
    const own = Math.min(...ends) < OWN;
    room = Math.min(room, (own ? Math.max(...ends) : distanceTo(edge, root.x, root.y)) - thickness);
  }
  for (const hole of spec.holes ?? []) {
    if (hole.place.on === 'base')
      room = Math.min(room, distanceToHole(spec, hole, root.x, root.y) - thickness);
  }
  return room;
}
