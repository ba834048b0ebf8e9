/** The handle counter of dxf-writer, which its own types leave out. */
declare module 'dxf-writer/src/Handle.js' {
  const Handle: {
    /** The last handle given out; the next one is one more. */
    seed: number;
  };
  export default Handle;
}
