// What is wrong, or doubtful, about what was set or dropped in: beside its field where it has one, else above the results.
import type { VNode } from 'preact';
import type { Diagnostic } from '../../base/index.js';
import { fields } from '../fields.js';
import type { Plan, Planned } from '../plan.js';

const mostErrors = 12;
const mostWarnings = 4;

/** As the command line words it. */
export function newsText({ message, expected, hint }: Diagnostic): string {
  const wanted = expected === undefined ? '' : `; expected ${expected}`;
  return `${message}${wanted}${hint === undefined ? '' : ` (${hint})`}`;
}

/** The key of the field beside which it is shown; null: it has none. */
export function fieldOf({ source, message }: Diagnostic): string | null {
  // What is missing from a section stands nowhere; its message begins with its key.
  const [first = ''] = message.split(' ');
  const keys = [source.file, ...(message.endsWith(' is missing') ? [first] : [])];
  return keys.find((key) => fields.some((field) => field.key === key)) ?? null;
}

export function FileErrors({ planned }: { readonly planned: Planned }): VNode | null {
  if (planned.ok) return null;
  const others = planned.errors.filter((error) => fieldOf(error) === null);
  return <News all={others} most={mostErrors} look="error" role="alert" />;
}

/** Why the file that was dropped in last is not used; all on the page stays as it was. */
export function RefusedFile({ errors }: { readonly errors: readonly Diagnostic[] }): VNode | null {
  return <News all={errors} most={mostErrors} look="error" role="alert" />;
}

export function Warnings({ plan }: { readonly plan: Plan }): VNode | null {
  return <News all={plan.warnings} most={mostWarnings} look="warning" role="status" />;
}

function News(props: {
  readonly all: readonly Diagnostic[];
  readonly most: number;
  readonly look: string;
  readonly role: 'alert' | 'status';
}): VNode | null {
  const { all, most, look, role } = props;
  if (all.length === 0) return null;
  return (
    <div class={`news ${look}`} role={role}>
      <ul>
        {all.slice(0, most).map((one) => (
          <li>
            {one.source.file}
            {one.source.line === undefined ? '' : `:${String(one.source.line)}`}: {newsText(one)}
          </li>
        ))}
        {all.length > most ? <li>… and {all.length - most} more</li> : null}
      </ul>
    </div>
  );
}
