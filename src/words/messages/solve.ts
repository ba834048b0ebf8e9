/** Why no flat shape was found. */
export const solve = {
  tookTooLong: (seconds: string) =>
    `The tray took longer than ${seconds} s and was stopped; give it more time, or a simpler plan.`,
  notSettled:
    'No flat shape was found that can be worked into this tray: at a corner the metal would fold or tear at one place instead of moving evenly.',
};
