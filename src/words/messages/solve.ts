/** Why no flat shape was found. */
export const solve = {
  tookTooLong: (seconds: string) =>
    `The tray took longer than ${seconds} s and was stopped; give it more time, or a simpler plan.`,
  notSettled: (exponent: string) =>
    `No steady flat shape was found for this tray: with a hardening exponent of ${exponent} the stretch at a corner concentrates in a narrow band; give a lower section.height, a larger corner radius or a sheet that hardens more.`,
};
