// Options that lie over what a watch file says, for every command that asks what a watch is proved to do.
import type { Command, OptionValues } from '@commander-js/extra-typings';

/** Adds the options; the command's own arguments and options come before or after them. */
export function withWatchOverrides<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
) {
  return command
    .optionsGroup('In place of what the watch file says:')
    .option('--interval <duration>', 'sleep between checks (checkInterval)')
    .option('--recheck <duration>', 'sleep after an open check (recheckInterval)')
    .option('--threshold <checks>', 'open checks for an alert: 2, or 2/3 for 2 out of 3')
    .option('--clear <checks>', 'shut checks in a row that clear its memory (clearThreshold)')
    .option('--cooldown <duration>', 'quiet time after an alert (alertCooldown)')
    .option('--wake-on <edges>', 'timer, opening or any-change')
    .option('--leave-open-after <duration>', 'from when on it counts as left open')
    .option('--report-within <duration>', 'how soon it is to be told')
    .option('--quiet-up-to <duration>', 'how long an opening must raise no alert')
    .option('--boot-time <range>', 'wake to check: 400ms, or 300ms..500ms')
    .option('--connect-time <range>', 'time of an attempt: 4s, or 2s..8s')
    .option('--clock-error <range>', 'how wrong sleeps run: 1%, or -2%..2% (each sleep may differ)')
    .optionsGroup('What may go wrong:')
    .option('--outage <duration>', 'the network is down, for at most so long')
    .option('--outages <count>', 'at most so many times; default 1')
    .option('--outages-apart <duration>', 'from one to the next at least so long; default 0s')
    .option('--power-losses <count>', 'at most so many losses of power')
    .option('--power-loss-lasting <duration>', 'each for at most so long; default 1m')
    .option('--resets <count>', 'at most so many resets')
    .option('--chatter <duration>', 'the contact reads shut wrongly, once, for at most so long');
}
