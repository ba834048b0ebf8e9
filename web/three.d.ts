/** The little of three.js that the bench view uses. */
declare module 'three' {
  export class Vector3 {
    constructor(x?: number, y?: number, z?: number);
    x: number;
    y: number;
    z: number;
    fromArray(list: ArrayLike<number>, at: number): this;
    project(camera: OrthographicCamera): this;
  }
  class Attribute {
    needsUpdate: boolean;
  }
  export class BufferAttribute extends Attribute {
    constructor(list: Float32Array | Uint32Array, size: number);
  }
  export class BufferGeometry {
    setAttribute(name: string, attribute: BufferAttribute): this;
    setIndex(attribute: BufferAttribute): this;
    computeVertexNormals(): void;
    dispose(): void;
  }
  class Thing {
    readonly position: Vector3 & { set(x: number, y: number, z: number): unknown };
    readonly up: Vector3 & { set(x: number, y: number, z: number): unknown };
    lookAt(x: number, y: number, z: number): void;
    add(...things: Thing[]): this;
    remove(...things: Thing[]): this;
    updateMatrixWorld(): void;
  }
  export class Scene extends Thing {}
  export class OrthographicCamera extends Thing {
    constructor();
    left: number;
    right: number;
    top: number;
    bottom: number;
    near: number;
    far: number;
    updateProjectionMatrix(): void;
  }
  class Material {}
  export const DoubleSide: number;
  export class MeshLambertMaterial extends Material {
    constructor(options: {
      vertexColors?: boolean;
      side?: number;
      polygonOffset?: boolean;
      polygonOffsetFactor?: number;
      polygonOffsetUnits?: number;
    });
  }
  export class LineBasicMaterial extends Material {
    constructor(options: { color: number });
  }
  export class Mesh extends Thing {
    constructor(geometry: BufferGeometry, material: Material);
  }
  export class LineLoop extends Thing {
    constructor(geometry: BufferGeometry, material: Material);
  }
  export class HemisphereLight extends Thing {
    constructor(sky: number, ground: number, intensity: number);
  }
  export class DirectionalLight extends Thing {
    constructor(color: number, intensity: number);
  }
  export class WebGLRenderer {
    constructor(options: { antialias?: boolean; alpha?: boolean });
    readonly domElement: HTMLCanvasElement;
    setPixelRatio(ratio: number): void;
    setSize(width: number, height: number, style: boolean): void;
    dispose(): void;
    forceContextLoss(): void;
    render(scene: Scene, camera: OrthographicCamera): void;
  }
}
