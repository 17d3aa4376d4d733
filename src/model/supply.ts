// The `supply:` section, once read: what a battery holds and what each activity takes from it. Whole numbers throughout: nAh,
// nA, ms, and for the charge of one act pC, which is nA × ms exactly (1 mC is 10⁹ pC, 1 nAh is 3.6 × 10⁶ pC).

/** What one act draws: a current for as long as the act lasts (or a time of its own), or a charge each time. */
export type ActivityDraw =
  | {
      readonly kind: 'current';
      readonly currentNa: number;
      /** How long it lasts each time; null: as long as it does in the simulation. */
      readonly timeMs: number | null;
    }
  | { readonly kind: 'charge'; readonly chargePc: number };

/** A charge that goes without any use. Shares are of the capacity, in parts per million. */
export interface SelfDischarge {
  /** Lost within the first day after charging. */
  readonly firstDayPpm: number;
  /** In every 30 days. */
  readonly perMonthPpm: number;
  /** The protection circuit's share of it, in every 30 days. */
  readonly protectionPerMonthPpm: number;
}

/** A pull-up that conducts while the contact is closed, which it is while it reads shut. */
export interface ContactBias {
  readonly resistanceOhm: number;
  readonly voltageMv: number;
  /** All the time, or only from each wake to its check. */
  readonly powered: 'always' | 'check-only';
}

/** A point of a discharge curve. */
export interface VoltagePoint {
  /** What is left of the charge that a full battery gives at its temperature, in parts per million. */
  readonly leftPpm: number;
  readonly voltageMv: number;
}

/** The `supply:` section. */
export interface SupplySettings {
  readonly capacityNah: number;
  /** The share of the capacity that the device can use, in parts per million. */
  readonly usablePpm: number;
  /** What cold leaves of the capacity, in parts per million, and at which temperature; null: nobody said. */
  readonly derating: { readonly celsius: number; readonly sharePpm: number } | null;
  readonly selfDischarge: SelfDischarge;
  readonly sleepNa: number;
  /** From each wake to its check. Null, here and below: it takes nothing that is known of. */
  readonly boot: ActivityDraw | null;
  /** The lamp, at each check that reads open. */
  readonly blink: ActivityDraw | null;
  /** An alert that is sent. */
  readonly connect: ActivityDraw | null;
  /** An attempt that fails. */
  readonly failedAttempt: ActivityDraw | null;
  /** Awake after an alert, doing nothing until reset. */
  readonly hold: ActivityDraw | null;
  readonly heartbeat: ActivityDraw | null;
  readonly contactBias: ContactBias | null;
  /** Ascending in what is left, at least two points; null: a voltage tells nothing. */
  readonly voltageCurve: readonly VoltagePoint[] | null;
  /** The cells as they are bought; absent: the file gives the battery itself. */
  readonly cells?: BoughtCells;
  /** The preset it builds on, and the keys that are the preset's and not the owner's. */
  readonly preset: { readonly name: string; readonly filled: readonly string[] } | null;
}

export type RegulatorKind = 'linear' | 'boost' | 'buck';

/** Between cells and device. */
export interface Regulator {
  readonly kind: RegulatorKind;
  /** Drawn from the cells, always. */
  readonly quiescentNa: number;
  /** Null: a linear one passes the current on. */
  readonly efficiencyPpm: number | null;
  readonly outputMv: number;
}

/** Cells in series and parallel, and what follows from them. Currents and charges of the section are those of the cells. */
export interface BoughtCells {
  readonly name: string;
  readonly about: string;
  readonly isRecharged: boolean;
  readonly series: number;
  readonly parallel: number;
  readonly regulator: Regulator | null;
  /** What they may hold: at the heaviest load less the tolerance, and at the lightest load of the data sheet. */
  readonly capacityNah: { readonly least: number; readonly most: number };
  /** While the device sends; null: the current of a send is not given. */
  readonly sag: {
    /** Drawn from the cells. */
    readonly currentNa: number;
    readonly leastMv: number;
    readonly mostMv: number;
    /** Below this voltage a send fails. */
    readonly neededMv: number;
    /** By what: the end voltage of the cells, or the output of the regulator with what it keeps for itself, `keepsMv`. */
    readonly neededBy: 'cells' | 'regulator';
    readonly keepsMv: number;
    /** What is left on the voltage curve when a send fails first; 0: only at the end. 1,000,000: even with fresh cells. */
    readonly failsAtPpm: number;
  } | null;
  readonly sources: readonly string[];
}

/** A charge that somebody measured, and how long it lasted. */
export interface MeasuredLife {
  readonly capacityNah: number;
  readonly lifeMs: number;
  /** The check interval that it was measured at; absent: that of the watch file. */
  readonly checkIntervalMs?: number;
}
