// A file of another kind than is needed: where it belongs, for the command that was run.
import { type Diagnostic, shellWord } from '../../base/index.js';
import { type FileKind, kindsIn } from '../../scenarios/index.js';

/** Commands that take a timeline without an option. */
const onTimelines = [
  'battery',
  'chart',
  'compare',
  'planner',
  'profile',
  'replay',
  'report',
  'rig',
];
/** Commands with --profile and --profile-from. */
const onUsage = ['estimate', 'silence', 'tune', 'year'];

const needs: Readonly<Partial<Record<FileKind, string>>> = {
  'list of trials':
    'dozewatch place reads trials (direction,gap,reads); without a file it prints a sheet for them',
  'list of readings of the current asleep':
    '--sleep-current reads rows such as meter,7.3uA; without a file it prints a sheet for them',
  'record of a drill': '--record reads rows of step,message, as the checklist has them',
  'log of temperatures': 'this option reads rows of time,temperature',
  'device log': 'the rows needed here are of time,event, such as alert or heartbeat',
  'watch file': 'a watch file (dozewatch init writes one) goes with -c',
  'usage profile': 'a profile goes with --profile',
  'door log': 'a scenario or a door log goes without an option',
};

/** Where it belongs; null: what the error says anyway is right for this command. */
function placeOf(kind: string, wanted: string, command: string): string | null {
  const usage = onUsage.includes(command);
  if (onTimelines.includes(command) && kind !== 'usage profile') return null;
  switch (kind) {
    case 'door log':
      if (usage) return 'a door log goes with --profile-from';
      return 'dozewatch replay takes a door log';
    case 'scenario':
      if (command === 'suite') return 'scenarios go into the folder of dozewatch suite';
      return 'dozewatch replay takes a scenario';
    case 'watch file':
      if (wanted === 'usage profile' && usage) {
        return 'give the watch file with -c; give a profile with --profile, or a door log with --profile-from';
      }
      return command === 'bounds' && wanted !== 'usage profile'
        ? null
        : 'give the watch file with -c';
    case 'usage profile':
      if (usage || command === 'bounds') return 'give it with --profile';
      return 'dozewatch estimate takes a profile, with --profile';
    case 'device log':
      if (command === 'silence') return 'a log of messages goes with --messages';
      return command === 'drill' ? 'a device log of a drill goes with --record' : null;
    default:
      return null;
  }
}

/** Each hint about a file of another kind works for the command it is printed by. */
export function withKindHints(
  diagnostics: readonly Diagnostic[],
  args: readonly string[],
): readonly Diagnostic[] {
  const command = args.find((arg) => !arg.startsWith('-')) ?? '';
  return diagnostics.map((one) => {
    // It takes a profile, and no log to fit one to.
    if (one.code === 'profile-is-log' && command === 'bounds') {
      const log = shellWord(one.found ?? 'doors.csv');
      const line = `dozewatch profile ${log} > profile.yaml`;
      return { ...one, hint: `have a profile fitted to it, and give that with --profile: ${line}` };
    }
    const kinds = one.code === 'other-kind-of-file' ? kindsIn(one.message) : null;
    if (kinds === null) return one;
    const place = placeOf(kinds.kind, kinds.wanted, command);
    if (place === null) return one;
    const need = place.includes('--profile,') ? undefined : needs[kinds.wanted];
    return { ...one, hint: need === undefined ? place : `${place}; ${need}` };
  });
}
