// What holds where a watch file says nothing, once, as a file would say it. `recheckInterval` follows `checkInterval`; what is
// not here is off, or is not required. Every 2 minutes costs a small battery little, two open checks in a row keep one
// brief opening from raising an alarm, and nobody minds a door that is open for less than 3 minutes.

export const defaults = {
  watch: {
    checkInterval: '2m',
    escalationThreshold: 2,
    clearThreshold: 1,
    alertCooldown: '30m',
    cooldownEndsWhenShut: true,
    afterAlert: 'keep-watching',
    retry: { interval: '1m', attempts: 5 },
    unsentWhenShut: 'send',
    wakeOn: 'timer',
    heartbeatInterval: 'off',
  },
  device: { bootTime: '400ms', connectTime: '4s', clockError: '0%' },
  judge: { leaveOpenAfter: '3m' },
  contact: { bounceTime: '1ms' },
  door: { sealGap: '2mm' },
} as const;
