// How likely an opening is to be reported, by its length, and how late, when it begins at any moment alike while the
// device is at rest and nothing goes wrong.
import { itemAt } from '../../base/index.js';
import type { Bounds, Curve } from '../answer.js';
import type { BoundsQuestion } from '../question.js';
import { type Times, timesOf } from '../times.js';
import { calmDevice, type Ends } from './calm-device.js';
import { envelope } from './envelope.js';
import { curveOf, piecesOf } from './pieces.js';

type Curves = Pick<
  Bounds,
  'detectionCurve' | 'detectionCurveMost' | 'delayDistribution' | 'delayDistributionMost'
>;

/** With ranges of times: the least and the greatest over the devices whose times each stay at one end of their range. */
export function curvesOf({ program, timing }: BoundsQuestion): Curves {
  const { table, watch } = program;
  const times = timesOf(watch, timing);
  const pieces = endsOf(times).map((ends) =>
    piecesOf(calmDevice(table, times, ends), watch.wakeOn !== 'timer'),
  );
  const detection = pieces.map((of) => curveOf(of, 0));
  // How long after the decision it is delivered; no later counts as in time.
  const delay = pieces.map((of) => curveOf(of, of.connectMs - 1));
  return {
    detectionCurve: leastOf(detection),
    detectionCurveMost: mostOf(detection),
    delayDistribution: leastOf(delay),
    delayDistributionMost: mostOf(delay),
  };
}

function leastOf(curves: readonly Curve[]): Curve {
  return curves.length === 1 ? itemAt(curves, 0) : envelope(curves, Math.min);
}

/** Null: the same as the least. */
function mostOf(curves: readonly Curve[]): Curve | null {
  return curves.length === 1 ? null : envelope(curves, Math.max);
}

function endsOf({ bootMs, connectMs, sleeps }: Times): readonly Ends[] {
  const both = <End>(varies: boolean, most: End, least: End): readonly End[] =>
    varies ? [most, least] : [most];
  const clockVaries = sleeps.some(({ leastMs, mostMs }) => leastMs !== mostMs);
  const boots = both<Ends['boot']>(bootMs.least !== bootMs.most, 'most', 'least');
  const connects = both<Ends['connect']>(connectMs.least !== connectMs.most, 'most', 'least');
  const clocks = both<Ends['clock']>(clockVaries, 'mostMs', 'leastMs');
  return boots.flatMap((boot) =>
    connects.flatMap((connect) => clocks.map((clock): Ends => ({ boot, connect, clock }))),
  );
}
