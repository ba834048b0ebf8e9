/**
 * The kernel's classes, bound to JavaScript when they are first named.
 *
 * At its start the kernel hands 19,000 classes with 80,000 functions to its loader (Emscripten's embind), which makes
 * objects of them all: three quarters of the time of a start and a third of its memory. To read a part takes some 300.
 * So those calls are noted, and made for a class when somebody names it, with the classes it stands on and those that
 * its functions take and give. What a function gives is of the class it says, also where the kernel has one derived
 * from that.
 */

type Binder = (...values: number[]) => void;

/** A call to the loader. Its values are numbers of types and places in the kernel's memory. */
interface Call {
  readonly binder: Binder;
  readonly values: readonly number[];
}

interface LateClass {
  readonly name: string;
  readonly call: Call;
  readonly members: Call[];
}

/** The loader's function for a class: its types come first, then its base's. */
const CLASS = '__embind_register_class';
const BASE = 3;
const NAME = 10;
/** By its functions for members, which value counts the types that the member names; their place is the next. */
const COUNT = new Map([
  [`${CLASS}_constructor`, 1],
  [`${CLASS}_function`, 2],
  [`${CLASS}_class_function`, 2],
]);

export class LateClasses {
  private readonly memory: WebAssembly.Memory;
  /** Those not yet bound: by their own types and those of pointers to them, and by name. */
  private readonly byType = new Map<number, LateClass>();
  private readonly byName = new Map<string, LateClass>();

  /** @param imports of the kernel, where those of the loader that bind classes are replaced */
  constructor(imports: WebAssembly.Imports, memory: WebAssembly.Memory) {
    this.memory = memory;
    for (const functions of Object.values(imports)) {
      for (const [key, binder] of Object.entries(functions as Record<string, Binder>)) {
        if (binder.name === CLASS) functions[key] = (...values: number[]) => this.note({ binder, values });
        else if (COUNT.has(binder.name)) {
          functions[key] = (...values: number[]) => {
            this.byType.get(values[0]!)!.members.push({ binder, values });
          };
        }
      }
    }
  }

  /** The same kernel, whose classes are bound as they are named. */
  of<Occt extends object>(occt: Occt): Occt {
    return new Proxy(occt, {
      get: (target, name) => {
        const late = this.byName.get(name as string);
        if (late !== undefined) this.bind(late);
        return target[name as keyof Occt];
      },
    });
  }

  private note(call: Call): void {
    const late = { name: this.text(call.values[NAME]!), call, members: [] };
    for (const type of call.values.slice(0, BASE)) this.byType.set(type, late);
    this.byName.set(late.name, late);
  }

  private bind(named: LateClass): void {
    const together = new Set([named]);
    // Grows while it is gone through.
    for (const { call, members } of together) {
      for (const type of [call.values[BASE]!, ...members.flatMap((member) => this.types(member))]) {
        const late = this.byType.get(type);
        if (late !== undefined) together.add(late);
      }
    }
    for (const { name, call, members } of together) {
      this.byName.delete(name);
      for (const type of call.values.slice(0, BASE)) this.byType.delete(type);
      for (const { binder, values } of [call, ...members]) binder(...values);
    }
  }

  /** Types that a member names. */
  private types({ binder, values }: Call): number[] {
    const at = COUNT.get(binder.name)!;
    return [...new Int32Array(this.memory.buffer, values[at + 1]!, values[at]!)];
  }

  /** The text at a place in the kernel's memory, which ends in a zero. */
  private text(place: number): string {
    const bytes = new Uint8Array(this.memory.buffer);
    return String.fromCharCode(...bytes.subarray(place, bytes.indexOf(0, place)));
  }
}
