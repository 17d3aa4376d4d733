// `dozewatch profile` at work, and the fit that other commands take from it.
import { plain } from '../../base/index.js';
import {
  defaultWatchFile,
  fitProfile,
  type ProfileFit,
  profileText,
} from '../../scenarios/index.js';
import { checkInputs, type TimelineOptions } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { loadWatch } from '../inputs/load-watch.js';
import { paintFor } from '../layout/paint.js';
import { problem } from '../problem.js';
import type { ProfileOptions } from './options.js';
import { fitLines } from './words.js';

interface On {
  readonly io: Io;
  readonly style: Style;
}

/** @throws InputProblem for a log that cannot be read or holds no opening that ends. */
export async function profile(file: string, options: ProfileOptions, on: On): Promise<ExitStatus> {
  const { io } = on;
  checkInputs([file], options, options.config);
  const { watchFile } = await loadWatch(options.config, io);
  const fit = await fitted(file, options, {
    ...on,
    leaveOpenAfterMs: watchFile.judge.leaveOpenAfterMs,
  });
  if (options.json === true) {
    await io.stdout.write(
      `${JSON.stringify({ schema: 'dozewatch/profile/1', file, ...fit }, null, 2)}\n`,
    );
  } else {
    await io.stdout.write(profileText(fit.profile, [`Fitted to ${plain(file)}`, ...fitLines(fit)]));
  }
  return 0;
}

/** Fits a profile to a door log. @throws InputProblem as above. */
export async function fitted(
  file: string,
  options: TimelineOptions & Pick<ProfileOptions, 'asLogged'>,
  on: On & { readonly leaveOpenAfterMs: number },
): Promise<ProfileFit> {
  const { io, leaveOpenAfterMs } = on;
  const timeline = await loadTimeline(file, defaultWatchFile(), options, io);
  const { start, world } = timeline;
  const door = { start, lengthMs: world.lengthMs, openings: world.openings };
  const fit = fitProfile(door, leaveOpenAfterMs, options.asLogged === true);
  if (fit !== null) {
    await writeDiagnostics(timeline.remarks, { io, paint: paintFor('stderr', on), most: 20 });
    return fit;
  }
  throw problem('profile-empty', file, {
    message: 'the log has no opening with a start and an end, so there is nothing to fit',
    hint: 'give a log of a few weeks, with a few dozen openings',
  });
}
