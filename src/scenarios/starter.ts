// The first files of a new user, with a comment beside every setting.
import { exampleSupply, settings, supplyPresetNames } from '../model/index.js';

const [watch, device, judge, door] = [
  settings.watch.keys,
  settings.device.keys,
  settings.judge.keys,
  settings.door.keys,
];

const otherPresets = supplyPresetNames.filter((name) => name !== exampleSupply.preset).join(', ');

/**
 * A watch file with a comment on every setting, for `init` to write. It meets its own requirements at rest because it
 * rechecks sooner than the default: sure from 120.4 s + 50.4 s, quiet up to 50.4 s.
 * @param schemaPath the schema of watch files for editors, relative to the file; the caller writes `watchJsonSchema()` there.
 */
export function starterWatchText(schemaPath = './schemas/watch.schema.json'): string {
  return `# yaml-language-server: $schema=${schemaPath}
# A sleeping door monitor, and what you require of it. The battery is an example: replace it with yours.
# Durations: 400ms, 90s, 3m, 1h30m, 2d.

watch:
  checkInterval: ${watch.checkInterval.default}             # sleep between checks
  recheckInterval: 50s          # sleep after an open check, with fewer counted than escalationThreshold; default: checkInterval
  escalationThreshold: ${String(watch.escalationThreshold.default)}        # open checks in a row that decide an alert; or { open: 2, outOf: 3 }
  clearThreshold: ${String(watch.clearThreshold.default)}             # shut checks in a row until the door counts as shut again
  alertCooldown: ${watch.alertCooldown.default}            # quiet time after a delivered alert
  cooldownEndsWhenShut: ${String(watch.cooldownEndsWhenShut.default)}    # the cooldown ends when the door counts as shut again
  afterAlert: ${watch.afterAlert.default}     # or hold-until-reset: stay awake until somebody resets it
  retry: { interval: ${watch.retry.keys.interval.default}, attempts: ${String(watch.retry.keys.attempts.default)} }  # if an alert cannot be delivered
  unsentWhenShut: ${watch.unsentWhenShut.default}          # an undelivered alert when a check reads shut; or drop it
  wakeOn: ${watch.wakeOn.default}                 # or opening, any-change: changes of the contact also wake it
  heartbeatInterval: ${watch.heartbeatInterval.default}        # or the time between two 'alive' messages

device:
  bootTime: ${device.bootTime.default}               # from a wake to its check
  connectTime: ${device.connectTime.default}               # from a check to the end of an attempt to send; or 2s..8s
  joinWait: ${device.joinWait.default}                  # how long at most an attempt waits awake for the network; then it fails
  clockError: ${device.clockError.default}                # or -2%..2%: a sleep lasts (1 + error) × its nominal length

judge:
  leaveOpenAfter: ${judge.leaveOpenAfter.default}            # an opening this long counts as left open
  reportWithin: 10m             # the alert must arrive within this time of the opening
  quietUpTo: 45s                # a single opening up to this long must raise no alert

# The switch and magnet. Without this section the contact is ideal: it reads open while the door is open.
# contact: { operateGap: 8mm, releaseGap: 12mm, bounceTime: 1ms }

door:
  sealGap: ${door.sealGap.default}                  # the largest gap at which the door still seals

# What may go wrong in the worst case that bounds proves. Without this section, nothing does.
# environment: { longestOutage: 1h, powerLosses: 1, powerLossLasting: 1m, resets: 1, longestChatter: 30s }

# The battery. The preset stands in for what you have not measured yet.
supply:
  preset: ${exampleSupply.preset}            # or ${otherPresets}
  capacity: ${exampleSupply.capacity}
  # sleepCurrent: 90uA          # your measurement, which overrides the preset
  # connect: { current: 59mA }  # or { charge: 13.3mC } for each alert
  # contactBias: { resistance: 45kOhm, powered: always }  # or check-only
`;
}

/**
 * A first scenario, for `init` to write.
 * @param schemaPath the schema of scenarios for editors, relative to the file; the caller writes `scenarioJsonSchema()` there.
 */
export function starterScenarioText(schemaPath = '../schemas/scenario.schema.json'): string {
  return `# yaml-language-server: $schema=${schemaPath}
# A day of one door, and the verdict that you expect. A time of day is the next one after the start.

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
  # The last but one, key by key:
  # - { at: "17:00", for: 25m, gap: 10mm }

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
