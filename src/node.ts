/**
 * The library's part for Node (`gatherpan/node`): all formats, those that need files of fonts or a library of native
 * code among them.
 */
export { nodeFonts } from './drawing/nodeFonts.ts';
export { pngBytes } from './drawing/png.ts';
export { nodeExporters, nodeExportersIn } from './exporters/nodeExporters.ts';
