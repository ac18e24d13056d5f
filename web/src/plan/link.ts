// A plan's conditions in the address, behind "#plan?": what another device or a bookmark needs to show the same plan. The
// names are those of the command line's options. An own airplane's profile and an own runway's file go with it, packed.

import { packed, unpacked } from '../parts/packed';
import { AIRPLANES, demoSetting, LIMITS, STANDARDS, windText, type Setting } from './setting';

const START = '#plan?';

/** Files of the user's own that a link carries: as letters in the address, or as the texts that they are. */
export interface Carried {
  airplane: string;
  runway: string;
}
const NONE: Carried = { airplane: '', runway: '' };

/** What of a setting a link must carry, as letters. */
export async function packedOf(setting: Setting): Promise<Carried> {
  return {
    airplane: setting.airplane === 'own' ? await packed(setting.ownAirplane) : '',
    runway: setting.runway === 'own' ? await packed(setting.ownRunway) : '',
  };
}

/** The texts that a fragment carries; an empty one where it carries none that can be read. */
export async function carriedIn(fragment: string): Promise<Carried> {
  const link = new URLSearchParams(fragment.startsWith(START) ? fragment.slice(START.length) : '');
  const text = async (name: string) => (await unpacked(link.get(name) ?? '')) ?? '';
  return { airplane: await text('own-airplane'), runway: await text('own-runway') };
}

export function fragmentOf(setting: Setting, letters: Carried = NONE): string {
  const link = new URLSearchParams();
  const say = (name: string, value: string | number) => String(value).trim() && link.set(name, String(value).trim());
  if (setting.runway !== 'demo') say('runway', setting.runway);
  say('airplane', setting.airplane);
  if (setting.metar.trim()) say('metar', setting.metar.replace(/\s+/g, ' '));
  else say('wind', windText(setting));
  say('since', new Date(setting.windSince).toISOString().slice(0, 16) + 'Z');
  say('temperature-c', setting.temperatureC);
  say(`altimeter-${setting.altimeterIn}`, setting.altimeter);
  say('weight-lb', setting.weightLb);
  say('touchdown-point-ft', setting.pointFt);
  say('pattern-height-ft', setting.heightFt);
  say('spacing-nm', setting.spacingNm);
  say('traffic', setting.traffic);
  say('standard', setting.standard);
  say('own-airplane', letters.airplane);
  say('own-runway', letters.runway);
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

/** The setting that a fragment tells; none where it tells none, or just `mine` (which holds more than a link). What it does not name is the demonstration's, and
    own files that it names and does not carry are `mine`. What is written wrongly is left out, as nobody but a hand or a bug writes it. */
export function settingIn(fragment: string, mine: Setting, carried: Carried = NONE, letters: Carried = NONE): Setting | undefined {
  if (!fragment.startsWith(START) || fragment === fragmentOf(mine, letters)) return undefined;
  const link = new URLSearchParams(fragment.slice(START.length));
  const { ownAirplane, ownKey, ownRunway, ownRunwayKey } = mine;
  const setting: Setting = { ...demoSetting(), ownAirplane, ownKey, ownRunway, ownRunwayKey };
  // One that came with a link is not, or not yet, among those of this device.
  if (carried.airplane && carried.airplane !== ownAirplane) Object.assign(setting, { ownAirplane: carried.airplane, ownKey: '' });
  if (carried.runway && carried.runway !== ownRunway) Object.assign(setting, { ownRunway: carried.runway, ownRunwayKey: '' });
  const text = (name: string, take: (value: string) => void) => {
    const value = link.get(name);
    if (value !== null && value.length <= 2000) take(value);
  };
  const number = (name: string, take: (value: number) => void) =>
    text(name, (value) => /^-?\d+(\.\d+)?$/.test(value) && take(Number(value)));
  text('runway', (value) => {
    if (value !== 'own' || setting.ownRunway) setting.runway = value;
  });
  text('airplane', (value) => {
    if (AIRPLANES.some((one) => one.id === value) || (value === 'own' && setting.ownAirplane)) setting.airplane = value;
  });
  text('metar', (value) => (setting.metar = value));
  text('wind', (value) => Object.assign(setting, windIn(value)));
  for (const key of ['windFrom', 'windKt', 'gustKt'] as const) setting[key] = within(key, setting[key]);
  text('since', (value) => {
    const since = Date.parse(value);
    if (since <= Date.now()) setting.windSince = since;
  });
  number('temperature-c', (value) => (setting.temperatureC = String(value)));
  for (const unit of ['hpa', 'inhg'] as const)
    number(`altimeter-${unit}`, (value) => Object.assign(setting, { altimeter: String(value), altimeterIn: unit }));
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
