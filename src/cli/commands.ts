// All commands, in the order of `dozewatch --help`. A further one is a file beside this and a row here.
import type { CommandEntry } from './command.js';

export const commandTable: readonly CommandEntry[] = [
  {
    name: 'init',
    summary: 'write a commented watch file and a first scenario',
    load: async () => (await import('./init/index.js')).initCommand,
  },
  {
    name: 'replay',
    summary: 'drive scenarios or door logs through a watch and judge what it did',
    load: async () => (await import('./replay/index.js')).replayCommand,
  },
  {
    name: 'suite',
    summary: 'replay every scenario of a folder against its own expectations',
    load: async () => (await import('./suite/index.js')).suiteCommand,
  },
  {
    name: 'bounds',
    summary: 'prove what a watch can be relied on for, whatever the door does',
    load: async () => (await import('./bounds/index.js')).boundsCommand,
  },
  {
    name: 'verify',
    summary: 'check a certificate of proved bounds without trusting who wrote it',
    load: async () => (await import('./verify/index.js')).verifyCommand,
  },
  {
    name: 'hunt',
    summary: 'try to break a watch with thousands of timelines; save the smallest that does',
    load: async () => (await import('./hunt/index.js')).huntCommand,
  },
  {
    name: 'rig',
    summary: "run the owner's own firmware through timelines and judge it the same way",
    load: async () => (await import('./rig/index.js')).rigCommand,
  },
  {
    name: 'chart',
    summary: 'draw a timeline and what the watch did as SVG, PNG, HTML or VCD',
    load: async () => (await import('./chart/index.js')).chartCommand,
  },
  {
    name: 'report',
    summary: 'write what a watch did, and what is proved of it, as one page to send',
    load: async () => (await import('./report/index.js')).reportCommand,
  },
  {
    name: 'estimate',
    summary: 'estimate misses and false alarms a year under real use, with exact intervals',
    load: async () => (await import('./estimate/index.js')).estimateCommand,
  },
  {
    name: 'merge',
    summary: 'join the parts of an estimate that ran on several machines',
    load: async () => (await import('./merge/index.js')).mergeCommand,
  },
  {
    name: 'profile',
    summary: 'fit a usage profile to a door log',
    load: async () => (await import('./profile/index.js')).profileCommand,
  },
  {
    name: 'battery',
    summary: 'tell how long a charge lasts and where it goes',
    load: async () => (await import('./battery/index.js')).batteryCommand,
  },
  {
    name: 'margin',
    summary: 'tell how warm it gets behind the door by the time somebody comes',
    load: async () => (await import('./margin/index.js')).marginCommand,
  },
  {
    name: 'tune',
    summary: 'search the settings for those that do what is asked, and recommend some',
    load: async () => (await import('./tune/index.js')).tuneCommand,
  },
  {
    name: 'compare',
    summary: 'hold a log of the real device against its watch and its door',
    load: async () => (await import('./compare/index.js')).compareCommand,
  },
  {
    name: 'drill',
    summary: 'make a hands-on test for the real door, and judge what came of it',
    load: async () => (await import('./drill/index.js')).drillCommand,
  },
  {
    name: 'emit',
    summary: 'write the logic of a watch as C99, as SCXML, or as a state diagram',
    load: async () => (await import('./emit/index.js')).emitCommand,
  },
  {
    name: 'planner',
    summary: 'write a page on which settings can be tried out',
    load: async () => (await import('./planner/index.js')).plannerCommand,
  },
  {
    name: 'completion',
    summary: 'print what a shell needs to complete command lines',
    load: async () => (await import('./completion/index.js')).completionCommand,
  },
];
