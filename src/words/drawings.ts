/** Text on DXF drawings (ASCII: other letters are written as `plainText` does), and what their layers hold. */
export const drawings = {
  sheet: (material: string, mm: string, grain: string) => `${material}  ${mm} mm  grain ${grain} deg`,
  blank: (length: string, width: string) => `blank ${length} x ${width} mm`,
  layers: {
    CUT: 'outline and holes, to be cut through',
    SCRIBE: 'where each bend begins and ends, to be scribed or etched lightly, never cut',
    GATHER: 'lines of equal gather, to be drawn on or etched lightly, never cut',
    TUCKS: 'where to set the tucks, or the rows of blows, to be scribed or etched lightly, never cut',
    DOTS: 'where to punch the dots of the trial corner, never cut',
    GRAIN: 'arrow along the rolling direction of the sheet',
    TEXT: 'name, sheet and size, for reading only',
  },
  plateLayers: {
    CUT: 'outlines and holes, to be cut through',
    SCRIBE: 'where each bend begins and ends, to be scribed, never cut',
    TEXT: 'names, to be engraved',
  },
};
