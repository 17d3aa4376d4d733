// The first files of a new user, with a comment beside every setting.
import { exampleSupply, settings } from '../model/index.js';

const [watch, device, judge, door] = [
  settings.watch.keys,
  settings.device.keys,
  settings.judge.keys,
  settings.door.keys,
];

/**
 * A watch file with a comment on every setting, for `init` to write: it meets its own requirements at rest. Re-checks
 * sooner than the default, and what is required beyond it, are what that takes: sure from 120.4 s + 50.4 s, quiet up to 50.4 s.
 * @param schemaPath where an editor finds the schema of watch files, seen from the file: whoever writes the file puts
 * the text of `watchJsonSchema()` there.
 */
export function starterWatchText(schemaPath = './schemas/watch.schema.json'): string {
  return `# yaml-language-server: $schema=${schemaPath}
# A sleeping door monitor, and what is required of it. The battery is an example: put in your own.
# Durations: 400ms, 90s, 3m, 1h30m, 2d.

watch:
  checkInterval: ${watch.checkInterval.default}             # sleep between checks
  recheckInterval: 50s          # sleep after an open check that is not yet an alert; default checkInterval
  escalationThreshold: ${String(watch.escalationThreshold.default)}        # open checks in a row before an alert; or { open: 2, outOf: 3 }
  clearThreshold: ${String(watch.clearThreshold.default)}             # shut checks in a row after which the door counts as shut again
  alertCooldown: ${watch.alertCooldown.default}            # quiet time after a delivered alert
  cooldownEndsWhenShut: ${String(watch.cooldownEndsWhenShut.default)}    # a door seen shut ends the cooldown
  afterAlert: ${watch.afterAlert.default}     # or hold-until-reset: stay awake and do nothing until reset
  retry: { interval: ${watch.retry.keys.interval.default}, attempts: ${String(watch.retry.keys.attempts.default)} }  # when an alert is not delivered
  unsentWhenShut: ${watch.unsentWhenShut.default}          # or drop: an undelivered alert when the door is seen shut again
  wakeOn: ${watch.wakeOn.default}                 # or opening, any-change: contact edges wake it too
  heartbeatInterval: ${watch.heartbeatInterval.default}        # or a duration: an 'alive' message this often

device:
  bootTime: ${device.bootTime.default}               # from the wake to the check
  connectTime: ${device.connectTime.default}               # or 2s..8s
  clockError: ${device.clockError.default}                # or -2%..2%: sleeps last (1 + error) × nominal

judge:
  leaveOpenAfter: ${judge.leaveOpenAfter.default}            # an opening at least this long is a leave-open
  reportWithin: 10m             # from the start of an opening to the delivery of its alert
  quietUpTo: 45s                # one opening of at most this must raise no alert

# The switch and magnet. Without this section the contact is ideal: it reads open while the door is open.
# contact: { operateGap: 8mm, releaseGap: 12mm, bounceTime: 1ms }

door:
  sealGap: ${door.sealGap.default}                  # up to this gap the door still seals

# What may go wrong at worst, for bounds. Without this section, nothing.
# environment: { longestOutage: 1h, powerLosses: 1, powerLossLasting: 1m, resets: 1, longestChatter: 30s }

# The battery, for weeks on a charge. A preset stands in for what nobody has measured yet: put in your own.
supply:
  preset: ${exampleSupply.preset}            # or bare-radio-module, tuned-board
  capacity: ${exampleSupply.capacity}
  # sleepCurrent: 90uA          # measured, in place of the preset's
  # connect: { current: 59mA }  # or { charge: 13.3mC } each time
  # contactBias: { resistance: 45kOhm, powered: always }  # or check-only
`;
}

/**
 * A first scenario, for `init` to write.
 * @param schemaPath where an editor finds the schema of scenarios, seen from the file: whoever writes the file puts
 * the text of `scenarioJsonSchema()` there.
 */
export function starterScenarioText(schemaPath = '../schemas/scenario.schema.json'): string {
  return `# yaml-language-server: $schema=${schemaPath}
# A day of one door, and what should come of it. Times of day are the next ones after the start.

name: A day at the flower store
start: 2026-05-08T06:00:00+02:00  # or 2026-05-08 06:00, with zone: Europe/Lisbon
length: 1d

door:
  - at 06:20 for 40s
  - at 07:10 for 45s
  - at 07:30 for 22m (wedged for the trolleys)
  - at 12:15 for 30s
  - at 17:00 for 25m ajar 10mm
  - at day 2 05:30 for 50s
  # The same in parts:
  # - { at: "07:30", for: 22m, gap: 10mm, note: wedged for the trolleys }

network:
  - { down: "07:35", for: 10m }

# power: [{ lost: "09:00", for: 2m }]
# resets: ["09:30"]
# contact: [{ stuck: shut, at: "12:00", for: 1h }]

expect:
  leaveOpens: 2
  missed: 0
  falseAlarms: 0
  worstDelayAtMost: 20m
`;
}
