/** The part of the npm package dxf (5.3) that the tests use; it has no types of its own. */
declare module 'dxf' {
  export interface DxfEntity {
    readonly type: string;
    readonly layer: string;
    readonly closed?: boolean;
    readonly vertices?: readonly { readonly x: number; readonly y: number; readonly bulge?: number }[];
    readonly string?: string;
    readonly x?: number;
    readonly y?: number;
    readonly textHeight?: number;
  }
  export function parseString(text: string): {
    readonly header: { readonly insUnits?: number };
    readonly entities: readonly DxfEntity[];
  };
}
