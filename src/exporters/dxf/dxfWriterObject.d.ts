/** The base class of what dxf-writer writes, which its own types leave out. */
declare module 'dxf-writer/src/DatabaseObject.js' {
  export default class DatabaseObject {
    /** @param subclass marks of its subclasses, group 100 */
    constructor(subclass?: string | readonly string[] | null);
    /** Writes handle, owner and marks. */
    tags(manager: { push(code: number, value: number | string): void }): void;
  }
}
