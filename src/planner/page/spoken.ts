// Values as they are spoken: `3m` and `3 min` are three minutes, not three metres.

const unitNames: Readonly<Record<string, string>> = {
  w: 'week',
  d: 'day',
  h: 'hour',
  m: 'minute',
  min: 'minute',
  s: 'second',
  ms: 'millisecond',
};

/** Durations with their units in words; other texts as they are. */
export function spokenText(written: string): string {
  // No field takes as many letters; a longer text is no duration.
  const parts = written.slice(0, 40).match(/(?<![\d.])[\d.]{1,12} ?[a-z]{1,3}/gu) ?? [];
  const spoken = parts.map((part) => {
    const size = Number.parseFloat(part);
    const unit = unitNames[part.replaceAll(/[^a-z]/gu, '')];
    return unit === undefined ? null : `${String(size)} ${unit}${size === 1 ? '' : 's'}`;
  });
  const isWhole = parts.length > 0 && parts.join('') === written.replaceAll(/(?<=[a-z]) /gu, '');
  return isWhole && !spoken.includes(null) ? spoken.join(' ') : written;
}
