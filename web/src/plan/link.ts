// A plan's conditions in the address, behind "#plan?": what another device or a bookmark needs to show the same plan. The
// names are those of the command line's options. An own airplane's profile is too long for that and stays on the device.

import { AIRPLANES, demoSetting, LIMITS, STANDARDS, windText, type Setting } from './setting';

const START = '#plan?';

export function fragmentOf(setting: Setting): string {
  const link = new URLSearchParams();
  const say = (name: string, value: string | number) => String(value).trim() && link.set(name, String(value).trim());
  if (setting.runway !== 'demo') say('runway', setting.runway);
  say('airplane', setting.airplane);
  if (setting.metar.trim()) say('metar', setting.metar.replace(/\s+/g, ' '));
  else say('wind', windText(setting));
  say('since', new Date(setting.windSince).toISOString().slice(0, 16) + 'Z');
  say('temperature-c', setting.temperatureC);
  say('altimeter-hpa', setting.altimeterHpa);
  say('weight-lb', setting.weightLb);
  say('touchdown-point-ft', setting.pointFt);
  say('pattern-height-ft', setting.heightFt);
  say('spacing-nm', setting.spacingNm);
  say('traffic', setting.traffic);
  say('standard', setting.standard);
  // Commas and slashes are allowed there and can be read aloud.
  return START + link.toString().replace(/%2F/g, '/').replace(/%2C/g, ',').replace(/%3A/g, ':');
}

function windIn(text: string): Partial<Setting> {
  if (text === 'calm') return { windFrom: 360, windKt: 0, gustKt: 0 };
  const parts = /^(\d{1,3})\/(\d{1,2})(?:G(\d{1,2}))?$/.exec(text);
  if (!parts) return {};
  return { windFrom: Number(parts[1]), windKt: Number(parts[2]), gustKt: Number(parts[3] ?? 0) };
}

function within(key: keyof typeof LIMITS, value: number): number {
  return Math.min(LIMITS[key].max, Math.max(LIMITS[key].min, value));
}

/** The setting that a fragment tells; none where it tells none, or just `mine` (which holds more than a link). What it does not name is the demonstration's, and only
    the own airplane's profile is `mine`. What is written wrongly is left out, as nobody but a hand or a bug writes it. */
export function settingIn(fragment: string, mine: Setting): Setting | undefined {
  if (!fragment.startsWith(START) || fragment === fragmentOf(mine)) return undefined;
  const link = new URLSearchParams(fragment.slice(START.length));
  const setting: Setting = { ...demoSetting(), ownAirplane: mine.ownAirplane };
  const text = (name: string, take: (value: string) => void) => {
    const value = link.get(name);
    if (value !== null && value.length <= 2000) take(value);
  };
  const number = (name: string, take: (value: number) => void) =>
    text(name, (value) => /^-?\d+(\.\d+)?$/.test(value) && take(Number(value)));
  text('runway', (value) => (setting.runway = value));
  text('airplane', (value) => {
    if (AIRPLANES.some((one) => one.id === value) || (value === 'own' && mine.ownAirplane)) setting.airplane = value;
  });
  text('metar', (value) => (setting.metar = value));
  text('wind', (value) => Object.assign(setting, windIn(value)));
  for (const key of ['windFrom', 'windKt', 'gustKt'] as const) setting[key] = within(key, setting[key]);
  text('since', (value) => {
    const since = Date.parse(value);
    if (since <= Date.now()) setting.windSince = since;
  });
  number('temperature-c', (value) => (setting.temperatureC = String(value)));
  number('altimeter-hpa', (value) => (setting.altimeterHpa = String(value)));
  number('weight-lb', (value) => (setting.weightLb = String(value)));
  number('touchdown-point-ft', (value) => (setting.pointFt = value));
  number('pattern-height-ft', (value) => (setting.heightFt = within('heightFt', value)));
  number('spacing-nm', (value) => (setting.spacingNm = within('spacingNm', value)));
  text('traffic', (value) => (setting.traffic = value === 'right' ? 'right' : 'left'));
  text('standard', (value) => {
    if (STANDARDS.some((one) => one.id === value)) setting.standard = value;
  });
  return setting;
}
