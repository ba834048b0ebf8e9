/** Why no flat shape was found. */
export const solve = {
  tookTooLong: (seconds: string) =>
    `The tray took longer than ${seconds} s and was stopped; give it more time, or a simpler plan.`,
  stageNotSettled: (degrees: string) =>
    `No flat shape was found for the wall at ${degrees}° on its way up: at a corner the metal would fold or tear at one place there instead of moving evenly. Ask for another number of stages.`,
  notSettled:
    'No flat shape was found that can be worked into this tray: at a corner the metal would fold or tear at one place instead of moving evenly.',
};
