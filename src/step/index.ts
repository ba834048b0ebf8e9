/** The library's part for STEP files (`gatherpan/step`): a tray from a solid, read by a kernel in a thread. For Node only. */
export { type OcctOptions, type OcctThread, occtThread } from './occt/occtThread.ts';
export { readStepTray, type StepGiven, type StepTray } from './readStepTray.ts';
