// `dozewatch profile` at work, and the fit that other commands take from it.
import { nameOfFile, plain, shellWord } from '../../base/index.js';
import type { OpeningsAgreement } from '../../estimate/index.js';
import {
  defaultWatchFile,
  fitProfile,
  type LoggedDoor,
  type ProfileFit,
  profileText,
  type Timeline,
  type WatchFile,
} from '../../scenarios/index.js';
import { checkInputs, type TimelineOptions } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { loadWatch } from '../inputs/load-watch.js';
import { jsonText } from '../layout/json-text.js';
import { paintFor } from '../layout/paint.js';
import { problem } from '../problem.js';
import {
  agreementLines,
  agreementOf,
  agreementWarnings,
  openingsAgreementOf,
  openingsWarnings,
} from './agreement.js';
import type { ProfileOptions } from './options.js';
import { evidenceWarnings, fitLines, isShortLog, openingsPerYear } from './words.js';

interface On {
  readonly io: Io;
  readonly style: Style;
}

/** @throws InputProblem for a log that cannot be read or holds no opening that ends. */
export async function profile(file: string, options: ProfileOptions, on: On): Promise<ExitStatus> {
  const { io } = on;
  checkInputs([file], options, options.config);
  const watch = await loadWatch(options.config, io);
  const { watchFile } = watch;
  const { leaveOpenAfterMs } = watchFile.judge;
  const by = { ...on, leaveOpenAfterMs, watchFile };
  const { fit, door, timeline, perYear } = await fitted(file, options, by);
  const rows = await agreementOf({ ...door, log: timeline, profile: fit.profile, watch }, io);
  const asLogged = options.asLogged === true;
  const warnings = agreementWarnings(rows, { file, asLogged });
  await writeDiagnostics(warnings, { io, paint: paintFor('stderr', on) });
  if (options.json === true) {
    const whole = {
      schema: 'dozewatch/profile/1',
      file,
      ...fit,
      openingsPerYear: openingsPerYear(fit),
      openingsAgreement: perYear,
      agreement: rows,
    };
    await io.stdout.write(jsonText(whole));
    return 0;
  }
  const lines = [
    `Fitted to ${plain(nameOfFile(file))}`,
    ...fitLines(fit, asLogged),
    ...agreementLines({ rows, perYear }, watch.name, isShortLog(fit)),
    ...(asLogged ? [] : [resamplesLine]),
    `next, with the name of this file: npx dozewatch estimate${watch.name === null ? '' : ` -c ${shellWord(watch.name)}`} --profile FILE`,
  ];
  await io.stdout.write(profileText(fit.profile, lines));
  return 0;
}

const resamplesLine =
  'fitted: what estimate needs for its intervals. leaveOpensApart: as many independent leave-opens as these are worth. resamples: how far fits to other days picked from the log differ, one in each row; the columns are factors on visits, openings in one, gaps (median, sigma), lengths (median, sigma), leave-opens (share, median, sigma)';

export interface Fitted {
  readonly fit: ProfileFit;
  readonly door: LoggedDoor;
  readonly timeline: Timeline;
  /** Openings per year of the log and of years simulated from the profile; null: the log has too few to compare, or its days are simulated. */
  readonly perYear: OpeningsAgreement | null;
}

/** Fits a profile to a door log. @throws InputProblem as above. */
export async function fitted(
  file: string,
  options: TimelineOptions & Pick<ProfileOptions, 'asLogged'>,
  on: On & { readonly leaveOpenAfterMs: number; readonly watchFile?: WatchFile | undefined },
): Promise<Fitted> {
  const { io, leaveOpenAfterMs } = on;
  const timeline = await loadTimeline(file, on.watchFile ?? defaultWatchFile(), options, io);
  const { start, world } = timeline;
  const { lengthMs, openings } = world;
  const door = { start, lengthMs, openings, unseen: timeline.logged?.unseen };
  const asLogged = options.asLogged === true;
  const fit = fitProfile(door, leaveOpenAfterMs, asLogged);
  if (fit !== null) {
    const perYear = asLogged ? null : openingsAgreementOf(fit, door);
    const remarks = [
      ...timeline.remarks,
      ...evidenceWarnings(fit, file),
      ...openingsWarnings(perYear, file),
    ];
    await writeDiagnostics(remarks, { io, paint: paintFor('stderr', on) });
    return { fit, door, timeline, perYear };
  }
  throw problem('profile-empty', file, {
    message: 'the log has no opening with a start and an end, so there is nothing to fit',
    hint: 'give a log with a few dozen openings, each with the row in which it starts and the one in which it ends',
  });
}
