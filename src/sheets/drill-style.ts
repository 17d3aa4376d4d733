// The style of a drill's page: the panel at the door large enough to be read from the door, the checklist below.

export const drillStyle = `
.door{border:2px solid var(--dw-ink);border-radius:4px;padding:16px 22px 14px;margin:20px 0 8px;background:var(--dw-panel)}
.door.flash{background:var(--dw-ink);color:var(--dw-paper)}
.door.flash .soft,.door.flash label,.door.flash .then,.door.flash .expected{color:var(--dw-paper)}
.step-choice{margin:0}
.step-choice select{font:inherit;font-weight:600;min-height:36px;max-width:100%;padding:3px 8px;color:var(--dw-ink);background:var(--dw-paper);border:1px solid var(--dw-soft);border-radius:3px}
.clock{font-size:clamp(96px,26vw,190px);line-height:1.05;font-weight:600;letter-spacing:-.03em;margin:6px 0 0;max-width:none;white-space:nowrap}
.clock.quiet{color:var(--dw-soft)}
.deed{font-size:clamp(22px,4.4vw,34px);line-height:1.2;font-weight:600;margin:0 0 4px;max-width:none;min-height:1.2em}
.deed::first-letter{text-transform:uppercase}
.then{font-size:17px;margin:0 0 14px;max-width:none;min-height:1.55em}
.keys{display:flex;flex-wrap:wrap;gap:8px;margin:0 0 12px}
.keys button{min-height:44px;padding:6px 16px;background:var(--dw-paper)}
.keys .big{flex:1 1 260px;min-height:76px;font-size:22px;font-weight:600;color:var(--dw-paper);background:var(--dw-reported);border-color:var(--dw-reported)}
.keys .big:hover:not(:disabled){color:var(--dw-reported);background:var(--dw-paper)}
.expected{margin:0 0 6px}
.seen{list-style:none;padding:0;margin:0 0 8px}
.seen li{padding:4px 0}
kbd{font:12px/1 ui-monospace,SFMono-Regular,Menlo,Consolas,monospace;border:1px solid currentColor;border-radius:3px;padding:1px 5px;margin-left:6px}
.signals{display:flex;flex-wrap:wrap;gap:6px 16px;align-items:center;border-top:1px solid var(--dw-rule);padding:10px 0;font-size:14px}
.signals input{width:24px;height:24px;vertical-align:-7px;margin:0}
.signals label{min-height:30px;padding:3px 0}
.signals button,.seen button{background:var(--dw-paper)}
.record{border-top:1px solid var(--dw-rule)}
.record textarea{font:14px/1.5 ui-monospace,SFMono-Regular,Menlo,Consolas,monospace;width:100%;color:var(--dw-ink);background:var(--dw-paper);border:1px solid var(--dw-soft);border-radius:3px;padding:6px 8px;margin:0 0 8px;resize:vertical}
.record code{font:13px/1.5 ui-monospace,SFMono-Regular,Menlo,Consolas,monospace;overflow-wrap:anywhere}
.step{border-top:1px solid var(--dw-rule);padding:4px 0 12px;break-inside:avoid}
.step h3{margin:10px 0 6px}
.step h3 .soft{font-weight:400;font-size:14px;margin-left:8px}
.step.is-up{border-left:6px solid var(--dw-reported);padding-left:14px}
.exact{color:var(--dw-late);font-weight:600}
.must label{font-weight:600}
.must input{width:24px;height:24px;vertical-align:-7px;margin:0 6px 0 0}
.purpose{font-size:13px;color:var(--dw-soft)}
@media (max-width:640px){.door{margin:14px -8px 6px;padding:10px 14px}.then{font-size:15px}kbd{display:none}}
@media print{
.no-print{display:none}
.step{padding:2px 0 6px}
.step.is-up{border-left:0;padding-left:0}
.two-up{grid-template-columns:1fr 1fr}
.step td{padding:2px 8px 2px 0}
}`;
