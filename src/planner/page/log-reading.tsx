// How a door log is read, where it has to be said: rows repaired or not, and the zone of times without an offset.
import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import type { LogReading } from '../with-file.js';

export function LogReadingChoice(props: {
  readonly name: string;
  readonly reading: LogReading;
  readonly read: (reading: LogReading) => void;
}): VNode {
  const { name, reading, read } = props;
  const [zone, setZone] = useState(reading.zone ?? '');
  const { lenient = false } = reading;
  return (
    <form
      class="log-reading"
      aria-label={`How ${name} is read`}
      onSubmit={(event) => {
        event.preventDefault();
        read({ lenient, zone });
      }}
    >
      <label>
        <input
          type="checkbox"
          checked={lenient}
          onChange={(event) => read({ lenient: event.currentTarget.checked, zone })}
        />{' '}
        Repair rows out of order and overlaps (<code>--lenient</code>)
      </label>
      <label>
        Zone of times without an offset (<code>--zone</code>){' '}
        <input
          type="text"
          value={zone}
          placeholder="Europe/Oslo"
          spellcheck={false}
          onInput={(event) => setZone(event.currentTarget.value)}
        />
      </label>
      <button type="submit">Read again</button>
    </form>
  );
}
