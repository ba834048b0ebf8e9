/** The tray at a stage, to be turned: by a pointer, by buttons, by the arrow keys. Loaded when it is shown. */
import {
  BufferAttribute,
  BufferGeometry,
  DirectionalLight,
  DoubleSide,
  HemisphereLight,
  LineBasicMaterial,
  LineLoop,
  Mesh,
  MeshLambertMaterial,
  OrthographicCamera,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three';
import type { BenchView } from '../src/server/benchView.ts';
import { element } from './page.ts';

/** Where the eye stands at first, degrees: round from the −y side towards +x, and above the base; as on paper. */
const [AROUND, ABOVE] = [28, 34];
/** One step of a button or a key, degrees. */
const STEP = 15;
/** Degrees a pixel of a drag turns. */
const DRAG = 0.5;
/** Room beside the tray for the letters; and the least height of the view, in the same measure. */
const [ROOM, LEAST] = [1.16, 0.4];

export interface Turned {
  show(shape: number, said: string): void;
  turn(around: number, above: number): void;
  /** Shows which corner is being worked, by its name; corners that are one zone are joined by a plus. */
  mark(corner: string): void;
  /** Gives back what it holds of the machine. */
  end(): void;
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** @throws Error where the browser has no WebGL */
export function turned(stand: HTMLElement, view: BenchView): Turned {
  const renderer = new WebGLRenderer({ antialias: true, alpha: true });
  renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
  const scene = new Scene();
  const camera = new OrthographicCamera();
  camera.up.set(0, 0, 1);
  const light = new DirectionalLight(0xffffff, 1.6);
  scene.add(new HemisphereLight(0xffffff, 0x8c8c8c, 1.5), light);
  const metal = new MeshLambertMaterial({
    vertexColors: true,
    side: DoubleSide,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
  const edge = new LineBasicMaterial({ color: 0x303030 });
  const canvas = renderer.domElement;
  canvas.tabIndex = 0;
  canvas.setAttribute('role', 'img');
  const letters = view.letters.map(({ letter }) => element('span', { 'aria-hidden': 'true' }, letter));
  stand.replaceChildren(canvas, ...letters);

  let [around, above] = [AROUND, ABOVE];
  let at = 0;
  let things: { mesh: Mesh; rim: LineLoop; geometries: BufferGeometry[] } | null = null;
  const { middle, reach, high } = extentOf(view.shapes);
  const [middleX, middleY, middleZ] = middle;

  function draw(): void {
    const { clientWidth: width, clientHeight: height } = stand;
    if (width === 0 || height === 0) return;
    renderer.setSize(width, height, false);
    const [a, e] = [radians(around), radians(above)];
    const far = 4 * reach;
    camera.position.set(
      middleX + far * Math.sin(a) * Math.cos(e),
      middleY - far * Math.cos(a) * Math.cos(e),
      middleZ + far * Math.sin(e),
    );
    camera.lookAt(middleX, middleY, middleZ);
    // Whatever way it is turned, all of it is in sight.
    const upright = reach * Math.abs(Math.sin(e)) + high * Math.cos(e);
    const tall = ROOM * Math.max((reach * height) / width, upright, LEAST * reach);
    camera.top = tall;
    camera.bottom = -tall;
    camera.right = (tall * width) / height;
    camera.left = -camera.right;
    camera.near = 0;
    camera.far = 2 * far;
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
    light.position.set(
      Math.sin(a - 0.7) * Math.cos(e + 0.3),
      -Math.cos(a - 0.7) * Math.cos(e + 0.3),
      Math.sin(e + 0.3),
    );
    renderer.render(scene, camera);
    const { formed } = view.shapes[at]!;
    view.letters.forEach(({ node }, i) => {
      const [x, y] = [formed[3 * node]! - middleX, formed[3 * node + 1]! - middleY];
      // Outside the rim.
      const out = 1 + (0.08 * reach) / Math.hypot(x, y);
      const place = new Vector3(middleX + x * out, middleY + y * out, formed[3 * node + 2]!);
      place.project(camera);
      const left = ((place.x + 1) / 2) * width;
      const top = ((1 - place.y) / 2) * height;
      letters[i]!.style.transform = `translate(${left}px, ${top}px) translate(-50%, -50%)`;
    });
  }

  function show(shape: number, said: string): void {
    at = shape;
    canvas.setAttribute('aria-label', said);
    if (things !== null) {
      scene.remove(things.mesh, things.rim);
      for (const geometry of things.geometries) geometry.dispose();
    }
    const { formed, dark } = view.shapes[shape]!;
    const surface = new BufferGeometry();
    surface.setAttribute('position', new BufferAttribute(formed, 3));
    // Bright steel; where gather is still to come, towards a dark red.
    const colours = new Float32Array(formed.length);
    dark.forEach((share, i) => {
      colours.set([0.82 - 0.45 * share, 0.82 - share, 0.8 - share], 3 * i);
    });
    surface.setAttribute('color', new BufferAttribute(colours, 3));
    surface.setIndex(new BufferAttribute(view.triangles, 1));
    surface.computeVertexNormals();
    const line = new BufferGeometry();
    const points = new Float32Array(3 * view.rim.length);
    view.rim.forEach((node, i) => {
      points.set(formed.subarray(3 * node, 3 * node + 3), 3 * i);
    });
    line.setAttribute('position', new BufferAttribute(points, 3));
    const mesh = new Mesh(surface, metal);
    const rim = new LineLoop(line, edge);
    scene.add(mesh, rim);
    things = { mesh, rim, geometries: [surface, line] };
    draw();
  }

  function turn(byAround: number, byAbove: number): void {
    around = (around + byAround) % 360;
    above = Math.min(89, Math.max(-20, above + byAbove));
    draw();
  }

  let held: { x: number; y: number } | null = null;
  canvas.addEventListener('pointerdown', ({ clientX: x, clientY: y, pointerId }) => {
    held = { x, y };
    canvas.setPointerCapture(pointerId);
  });
  canvas.addEventListener('pointermove', ({ clientX: x, clientY: y }) => {
    if (held === null) return;
    turn(-DRAG * (x - held.x), DRAG * (y - held.y));
    held = { x, y };
  });
  for (const end of ['pointerup', 'pointercancel'] as const)
    canvas.addEventListener(end, () => {
      held = null;
    });
  canvas.addEventListener('keydown', (event) => {
    const by: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-STEP, 0],
      ArrowRight: [STEP, 0],
      ArrowUp: [0, STEP],
      ArrowDown: [0, -STEP],
    };
    const steps = by[event.key];
    if (steps === undefined) return;
    event.preventDefault();
    turn(...steps);
  });
  const resized = new ResizeObserver(draw);
  resized.observe(stand);
  return {
    show,
    turn: (a, e) => turn(STEP * a, STEP * e),
    end() {
      resized.disconnect();
      renderer.dispose();
      renderer.forceContextLoss();
    },
    mark(corner) {
      const names = corner.split(' + ');
      for (const letter of letters)
        letter.classList.toggle('worked', names.includes(letter.textContent ?? ''));
    },
  };
}

/** Middle of all shapes, and how far from it they reach across and up. */
function extentOf(shapes: BenchView['shapes']): {
  readonly middle: readonly [number, number, number];
  readonly reach: number;
  readonly high: number;
} {
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (const { formed } of shapes)
    formed.forEach((value, i) => {
      least[i % 3] = Math.min(least[i % 3]!, value);
      most[i % 3] = Math.max(most[i % 3]!, value);
    });
  const half = (axis: number): number => (most[axis]! - least[axis]!) / 2;
  const middle = [0, 1, 2].map((axis) => least[axis]! + half(axis)) as [number, number, number];
  let reach = 0;
  for (const { formed } of shapes)
    for (let i = 0; i < formed.length; i += 3)
      reach = Math.max(reach, Math.hypot(formed[i]! - middle[0], formed[i + 1]! - middle[1]));
  return { middle, reach, high: half(2) };
}
