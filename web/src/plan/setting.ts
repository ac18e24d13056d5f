// What the plan is asked for, as the page holds it, and as arguments of the command line.

export interface Setting {
  runway: string; // 'demo', 'own', or five numbers
  ownRunway: string; // the runway's JSON
  ownRunwayKey: string; // under which it stands on the Airfield page; empty where it does not
  airplane: string; // an id, or 'own'
  ownAirplane: string; // the profile's JSON
  ownKey: string; // under which it stands on the Airplane page; empty where it does not
  metar: string;
  windFrom: number;
  windKt: number;
  gustKt: number;
  temperatureC: string;
  altimeter: string; // as typed
  altimeterIn: 'hpa' | 'inhg'; // the unit in which it was typed
  weightLb: string;
  pointFt: number;
  heightFt: number;
  spacingNm: number;
  traffic: 'left' | 'right';
  standard: string;
  windSince: number; // when the wind was entered, ms
}

export const DEMO_RUNWAY = '/data/demo/harrow-fen-24.json';

export const OWN_RUNWAY = '/runway.json';

export const AIRPLANES = [
  { id: 'demo-trainer', name: 'Demo trainer (invented)' },
  { id: 'generic-trainer', name: 'Generic high-wing trainer' },
  { id: 'generic-low-wing', name: 'Generic low-wing' },
];

export const STANDARDS = [
  { id: 'us-commercial-power-off-180', name: 'US commercial, power-off 180' },
  { id: 'us-commercial-short-field', name: 'US commercial, short field' },
  { id: 'ca-recreational-short-soft-field', name: 'Canada recreational, short field' },
  { id: 'ca-complex-competency', name: 'Canada complex competency' },
];

export function demoSetting(): Setting {
  return {
    runway: 'demo',
    ownRunway: '',
    ownRunwayKey: '',
    airplane: 'demo-trainer',
    ownAirplane: '',
    ownKey: '',
    metar: '',
    windFrom: 270,
    windKt: 10,
    gustKt: 0,
    temperatureC: '',
    altimeter: '',
    altimeterIn: 'hpa',
    weightLb: '',
    pointFt: 1000,
    heightFt: 1000,
    spacingNm: 0.5,
    traffic: 'left',
    standard: 'us-commercial-power-off-180',
    windSince: Date.now(),
  };
}

/** A setting as an earlier version of the page may have kept it: it knew hectopascals only. */
export function keptSetting(kept: Partial<Setting> & { altimeterHpa?: string }): Setting {
  const { altimeterHpa, ...rest } = kept;
  const setting = { ...demoSetting(), ...rest };
  return altimeterHpa && !setting.altimeter ? { ...setting, altimeter: altimeterHpa, altimeterIn: 'hpa' } : setting;
}

/** What the sliders reach. */
export const LIMITS = {
  windFrom: { min: 0, max: 360, step: 5 },
  windKt: { min: 0, max: 30, step: 1 },
  gustKt: { min: 0, max: 40, step: 1 },
  heightFt: { min: 600, max: 1500, step: 10 },
  spacingNm: { min: 0.3, max: 1, step: 0.01 },
} as const;

export function windText(setting: Setting): string {
  if (setting.windKt < 0.5 && setting.gustKt < 0.5) return 'calm';
  const from = ((Math.round(setting.windFrom) % 360) + 360) % 360 || 360;
  const gust = setting.gustKt > setting.windKt ? `G${setting.gustKt}` : '';
  return `${String(from).padStart(3, '0')}/${setting.windKt}${gust}`;
}

export function arguments_of(asked: Setting): { args: string[]; files: Record<string, string> } {
  const setting = keptSetting(asked); // a drill that was begun with an earlier version goes on
  const files: Record<string, string> = {};
  const args = ['--runway', setting.runway === 'demo' ? DEMO_RUNWAY : setting.runway === 'own' ? OWN_RUNWAY : setting.runway.trim()];
  if (setting.runway === 'own') files[OWN_RUNWAY] = setting.ownRunway;
  if (setting.airplane === 'own') {
    files['/airplane.json'] = setting.ownAirplane;
    args.push('--airplane', '/airplane.json');
  } else {
    args.push('--airplane', setting.airplane);
  }
  if (setting.metar.trim()) args.push('--metar', setting.metar.trim().replace(/\s+/g, ' '));
  else args.push('--wind', windText(setting));
  const given: [string, string][] = [
    ['--temperature-c', setting.temperatureC],
    [`--altimeter-${setting.altimeterIn}`, setting.altimeter],
    ['--weight-lb', setting.weightLb],
  ];
  for (const [option, value] of given) if (value.trim()) args.push(option, value.trim());
  args.push('--touchdown-point-ft', String(setting.pointFt));
  args.push('--pattern-height-ft', String(setting.heightFt));
  args.push('--spacing-nm', String(setting.spacingNm));
  args.push('--traffic', setting.traffic, '--standard', setting.standard);
  return { args, files };
}

/** Minutes since the wind was entered, and what to make of it. */
export function windAge(setting: Setting, now: number): { minutes: number; state: 'fresh' | 'stale' | 'old' } {
  const minutes = Math.max(0, Math.floor((now - setting.windSince) / 60000));
  return { minutes, state: minutes > 180 ? 'old' : minutes > 60 ? 'stale' : 'fresh' };
}
