/** The tray the page starts from: a drip tray for a potting bench. A tray file, as a person would write it. */
export const DEMO_TRAY = {
  name: 'potting-bench-drip-tray',
  measured: 'outside',
  plan: { length: 420, width: 280, cornerRadius: 60 },
  section: { bottomRadius: 22, height: 34, draft: 0, rim: { kind: 'plain' } },
  sheet: { material: 'DC04', thickness: 1.2, grain: 0 },
  forming: { trim: 4 },
  cut: { process: 'laser', kerf: 0.2, compensate: false },
} as const;
