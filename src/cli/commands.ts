// All commands, in the order of `dozewatch --help`. A new one is a folder beside this, a row here and a name in command.ts.
import type { CommandEntry } from './command.js';

export const commandTable: readonly CommandEntry[] = [
  {
    name: 'init',
    group: 'Plan:',
    summary: 'write a commented watch file and a first scenario',
    load: async () => (await import('./init/index.js')).initCommand,
  },
  {
    name: 'planner',
    group: 'Plan:',
    summary: 'write a page with sliders on which you try settings',
    load: async () => (await import('./planner/index.js')).plannerCommand,
  },
  {
    name: 'replay',
    group: 'Plan:',
    summary: 'run scenarios or door logs through a watch, and judge what it did',
    load: async () => (await import('./replay/index.js')).replayCommand,
  },
  {
    name: 'chart',
    group: 'Plan:',
    summary: 'draw a timeline and what the watch did, as SVG, PNG, HTML or VCD',
    load: async () => (await import('./chart/index.js')).chartCommand,
  },
  {
    name: 'suite',
    group: 'Plan:',
    summary: 'replay every scenario in a folder, and check its expectations',
    load: async () => (await import('./suite/index.js')).suiteCommand,
  },
  {
    name: 'bounds',
    group: 'Prove:',
    summary: 'prove what you can rely on, whatever the door does',
    load: async () => (await import('./bounds/index.js')).boundsCommand,
  },
  {
    name: 'verify',
    group: 'Prove:',
    summary: 'check the certificate of a proof without trusting the search',
    load: async () => (await import('./verify/index.js')).verifyCommand,
  },
  {
    name: 'hunt',
    group: 'Prove:',
    summary: 'try to break a watch with thousands of timelines, and save the shortest that does',
    load: async () => (await import('./hunt/index.js')).huntCommand,
  },
  {
    name: 'estimate',
    group: 'Choose:',
    summary: 'estimate misses and false alarms per year of real use',
    load: async () => (await import('./estimate/index.js')).estimateCommand,
  },
  {
    name: 'merge',
    group: 'Choose:',
    summary: 'join the parts of an estimate that ran on several machines',
    load: async () => (await import('./merge/index.js')).mergeCommand,
  },
  {
    name: 'profile',
    group: 'Choose:',
    summary: 'fit a usage profile to a door log',
    load: async () => (await import('./profile/index.js')).profileCommand,
  },
  {
    name: 'battery',
    group: 'Choose:',
    summary: 'how long a charge lasts, and what uses it',
    load: async () => (await import('./battery/index.js')).batteryCommand,
  },
  {
    name: 'margin',
    group: 'Choose:',
    summary: 'how warm it gets behind an open door before somebody shuts it',
    load: async () => (await import('./margin/index.js')).marginCommand,
  },
  {
    name: 'year',
    group: 'Choose:',
    summary: 'a year with the device: charges, answers, and when to charge',
    load: async () => (await import('./year/index.js')).yearCommand,
  },
  {
    name: 'tune',
    group: 'Choose:',
    summary: 'search for settings that meet your requirements, and recommend one',
    load: async () => (await import('./tune/index.js')).tuneCommand,
  },
  {
    name: 'emit',
    group: 'Build:',
    summary: 'write the logic of a watch as C99, as SCXML or as a state diagram',
    load: async () => (await import('./emit/index.js')).emitCommand,
  },
  {
    name: 'rig',
    group: 'Build:',
    summary: 'run your own firmware through timelines, and judge it like a watch',
    load: async () => (await import('./rig/index.js')).rigCommand,
  },
  {
    name: 'place',
    group: 'Place and test:',
    summary: 'find out where the magnet belongs, from trials at the door',
    load: async () => (await import('./place/index.js')).placeCommand,
  },
  {
    name: 'drill',
    group: 'Place and test:',
    summary: 'make a checklist for testing the real device by hand, and judge the results',
    load: async () => (await import('./drill/index.js')).drillCommand,
  },
  {
    name: 'compare',
    group: 'Live with it:',
    summary: 'compare a log from the real device with its watch file and door log',
    load: async () => (await import('./compare/index.js')).compareCommand,
  },
  {
    name: 'silence',
    group: 'Live with it:',
    summary: 'what no message means, and which test at the door shows it',
    load: async () => (await import('./silence/index.js')).silenceCommand,
  },
  {
    name: 'report',
    group: 'Live with it:',
    summary: 'write what a watch did, and what is proved about it, as one page to send',
    load: async () => (await import('./report/index.js')).reportCommand,
  },
  {
    name: 'completion',
    group: 'Other:',
    summary: 'print a shell completion script',
    load: async () => (await import('./completion/index.js')).completionCommand,
  },
];
