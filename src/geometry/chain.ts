/** Loose steps and pieces joined to chains. */

/** Numbers in the order in which they are passed; a closed chain does not repeat its first. */
export interface Chain {
  readonly keys: readonly number[];
  readonly closed: boolean;
}

/**
 * Steps from number to number as chains: open ones first, then closed ones, each sort in the order in which its
 * first steps are given.
 *
 * @param next at most one step from a number, and one to it
 */
export function chainsOf(next: ReadonlyMap<number, number>): Chain[] {
  const reached = new Set(next.values());
  const left = new Set(next.keys());
  const out: Chain[] = [];
  const walk = (start: number): void => {
    const keys = [start];
    left.delete(start);
    let at = next.get(start);
    while (at !== undefined && at !== start) {
      keys.push(at);
      at = left.delete(at) ? next.get(at) : undefined;
    }
    out.push({ keys, closed: at === start });
  };
  for (const start of next.keys()) if (!reached.has(start)) walk(start);
  for (const start of next.keys()) if (left.has(start)) walk(start);
  return out;
}

/** A piece of a chain, and whether it is passed from its first end to its second. */
export interface Link<Piece> {
  readonly piece: Piece;
  readonly forward: boolean;
}

/** How pieces are joined: their ends, and whether two ends meet. */
export interface Joints<Piece, End> {
  ends(piece: Piece): readonly [End, End];
  meet(a: End, b: End): boolean;
}

/**
 * The pieces that follow each other from a place, taken out of `left`, until the chain comes back to `home` or no
 * piece goes on; of several that would, the first.
 */
export function followed<Piece, End>(
  left: Piece[],
  { ends, meet }: Joints<Piece, End>,
  from: End,
  home: End | null = null,
): { links: Link<Piece>[]; end: End } {
  const links: Link<Piece>[] = [];
  let end = from;
  while (home === null || !meet(end, home)) {
    const next = left.findIndex((piece) => ends(piece).some((other) => meet(other, end)));
    if (next < 0) break;
    const [piece] = left.splice(next, 1) as [Piece];
    const [first, second] = ends(piece);
    const forward = meet(first, end);
    links.push({ piece, forward });
    end = forward ? second : first;
  }
  return { links, end };
}

/** All pieces as chains, each begun by the first that is left; one that does not come back is not closed. */
export function endToEnd<Piece, End>(
  pieces: readonly Piece[],
  joints: Joints<Piece, End>,
): { readonly links: readonly Link<Piece>[]; readonly closed: boolean }[] {
  const left = [...pieces];
  const out: { links: Link<Piece>[]; closed: boolean }[] = [];
  while (left.length > 0) {
    const piece = left.shift()!;
    const [home, from] = joints.ends(piece);
    const { links, end } = followed(left, joints, from, home);
    out.push({ links: [{ piece, forward: true }, ...links], closed: joints.meet(end, home) });
  }
  return out;
}
