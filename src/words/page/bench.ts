/** The page for the bench. */
export const bench = {
  title: 'gatherpan: at the bench',
  heading: 'At the bench',
  back: 'Back to the form',
  part: 'Part of the work',
  earlier: 'Before',
  later: 'Next',
  scriptless:
    'This page works with scripts only. Without them, work the tray out in the form: its answer leads to the same sheets as a plain page.',
  fromService: 'Show the bench sheets as a plain page',
  turn: 'Turn the picture',
  left: 'To the left',
  right: 'To the right',
  up: 'More from above',
  down: 'More from the side',
  way: 'How you gather',
  tucks: 'Set tucks and knock them down',
  blows: 'Shrink over the dolly, blow by blow',
  paper: 'Save as a paper (PDF)',
  forget: 'Clear ticks and notes of this tray',
  kept: 'Ticks and notes stay in this browser and go nowhere else.',
};
