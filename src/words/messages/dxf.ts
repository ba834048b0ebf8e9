/** What is wrong with a drawing that is read, what to give instead, and what was made of it. */
export const dxf = {
  place: (x: string, y: string) => `x ${x}, y ${y} mm`,

  // Go after the name of the drawing
  tooLarge: (megabytes: string, most: string) =>
    `the drawing is ${megabytes} MB; give one of at most ${most} MB.`,
  notDxf: 'it is not a drawing that can be read; give a DXF file in text form.',
  empty: 'the drawing is empty; give one with a closed chain of lines and arcs.',
  unsound: 'an entity has no sound coordinates; give a drawing that is whole.',
  manyEdges: (most: string) => `it shows more than ${most} edges; give a drawing of the plan alone.`,
  manyEntities: (most: string) =>
    `it draws more than ${most} entities, those in blocks included; give a drawing of the plan alone.`,
  manyValues: (most: string) =>
    `its entities hold more than ${most} values, those in blocks included; give a drawing of the plan alone.`,
  manyEdgesInChain: (edges: string, most: string) =>
    `the chain has ${edges} edges; give a plan of at most ${most}, with arcs instead of many short lines.`,
  entity: (entity: string, layer: string) =>
    `it shows an entity ${entity} on layer ${layer}; give lines, arcs, circles, ellipses, splines, polylines and blocks of them only, or name the layer of the plan in plan.layer.`,
  fittedOrMesh: (layer: string) =>
    `it shows a fitted polyline or a mesh on layer ${layer}; draw it with lines and arcs or as a spline, or name the layer of the plan in plan.layer.`,
  fitPoints: (layer: string) =>
    `it shows a spline on layer ${layer} that has fit points and no control points; save it with control points, or draw it with lines and arcs.`,
  curve: (place: string) =>
    `no arcs follow the spline or ellipse that starts at ${place}; draw it with lines and arcs.`,
  blockMissing: (block: string) =>
    `it uses the block ${block}, which is not in the file; take the block apart, or save it with the drawing.`,
  blocksDeep: (block: string) =>
    `the block ${block} lies within too many others or within itself; take the blocks apart.`,
  notFlat: 'it is not drawn flat; give a drawing in the plane of x and y.',
  open: (from: string, to: string, gap: string, joined: string) =>
    `the chain is open: ${from} and ${to} are ${gap} mm apart; give a closed chain, with ends that meet within ${joined} mm.`,
  branches: (edges: string, place: string) =>
    `${edges} edges meet at ${place}; give one closed chain, or name its layer in plan.layer.`,
  twice: (place: string) =>
    `an edge is drawn more than once at ${place}; give one closed chain, or name its layer in plan.layer.`,

  /** Sentences by themselves. */
  notes: {
    gaps: (gaps: string, widest: string, place: string) =>
      `The drawing's edges do not quite meet (${gaps} times; the widest gap is ${widest} mm, at ${place}); they were joined.`,
    curves: (curves: string, arcs: string, tolerance: string) =>
      `Splines and ellipses (${curves}) became ${arcs} arcs and lines, within ${tolerance} mm of them.`,
    facets: (lines: string, place: string, radius: string, tolerance: string) =>
      `The ${lines} short lines about ${place} became an arc of radius ${radius} mm; their ends lie within ${tolerance} mm of it.`,
    short: (edges: string, place: string) =>
      `Edges too short to form (${edges}, the first at ${place}) were left out.`,
    leftOut: (entities: string) => `These show no edges and were left out: ${entities}.`,
    moved: (x: string, y: string) =>
      `The drawing lies far from its origin; it was moved by x ${x}, y ${y} mm. Places in the tray file count from the new origin.`,
  },
};
