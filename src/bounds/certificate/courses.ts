// The worlds in which the search reached its bounds, as a certificate spells them out.
import { InvariantError } from '../../base/index.js';
import { type CertifiedCourse, sealed } from '../../verify/index.js';
import type { Spans, VaryingMs } from '../../world/index.js';
import type { CourseWorld } from '../answer.js';
import { type BoundsQuestion, modelOf } from '../bounds.js';
import { courseWorld } from '../course-world.js';
import type { Found } from '../search.js';
import { courseOf } from '../witness.js';

/** The course to what the search found; null where its clock readings fit no single course. */
export function courseTo(
  question: BoundsQuestion,
  found: Found,
  seek: 'greatest' | 'least',
): CertifiedCourse | null {
  const model = modelOf(question);
  try {
    const course = courseOf(model, found, seek);
    const lastsMs = Number.POSITIVE_INFINITY;
    const world = courseWorld(model, course, { lastsMs, nominal: question.timing });
    return certified(world, course.opensAtMs);
  } catch (error) {
    if (error instanceof InvariantError) return null;
    throw error;
  }
}

function certified(
  { world, timing, contactFaults }: CourseWorld,
  opensAtMs: number,
): CertifiedCourse {
  const { openings, networkDown, powerLost, resetsMs } = world;
  const { bootTime, connectTime, clockError } = timing;
  return sealed({
    opensAtMs,
    lengthMs: world.lengthMs,
    doorOpenMs: pairsOf(openings).filter(([from]) => from !== opensAtMs),
    networkDownMs: pairsOf(networkDown),
    powerLostMs: pairsOf(powerLost),
    resetsMs: [...resetsMs],
    readsShutMs: contactFaults.map(({ fromMs, toMs }) => [fromMs, toMs]),
    bootsMs: listOf(bootTime),
    connectsMs: listOf(connectTime),
    sleepsMs: clockError.kind === 'sleeps' ? [...clockError.ms] : [],
  });
}

function pairsOf({ fromMs, toMs }: Spans): [number, number][] {
  return Array.from(fromMs, (from, index) => [from, toMs[index] ?? from]);
}

function listOf(varying: VaryingMs): number[] {
  return varying.kind === 'inTurn' ? [...varying.ms] : [];
}
