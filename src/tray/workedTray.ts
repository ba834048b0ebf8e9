/**
 * The tray as it is worked: the trim is hammered together with the wall and comes off after forming, so what is solved
 * has the wall, or the lip, longer by the trim.
 */
import { roundedLength, turnedAngle } from './planLoop.ts';
import type { TraySpec } from './spec.ts';

/**
 * The tray with its trim as wall, or as lip, and no trim besides. Plan, bends and draft stay; a tray without straight
 * wall gets one. Walls grow along their own slope, so that the trim is as wide everywhere. Without trim it is the tray
 * itself.
 */
export function workedTray(spec: TraySpec): TraySpec {
  const { trim } = spec.forming;
  if (trim === 0) return spec;
  const { section, forming } = spec;
  const { autoTrim: _auto, ...rest } = forming;
  const worked = { ...spec, forming: { ...rest, trim: 0 } };
  if (section.rim.kind === 'lip')
    return {
      ...worked,
      section: { ...section, rim: { ...section.rim, width: roundedLength(section.rim.width + trim) } },
    };
  const taller = (height: number): number =>
    roundedLength(height + trim * Math.sin(turnedAngle(section.draft)));
  return {
    ...worked,
    section: {
      ...section,
      height: taller(section.height),
      ...(section.heights === undefined ? {} : { heights: section.heights.map(taller) }),
    },
  };
}
