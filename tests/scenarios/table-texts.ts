// Small tables, and texts of every kind of file.

const apart = (text: string): readonly string[] =>
  text
    .trim()
    .split('\n\n')
    .map((one) => `${one}\n`);

export const deviceLogs: readonly string[] = [
  ...apart(`
time,event,value
2026-05-08T06:00:00Z,power-on,
2026-05-08T06:00:01Z,check,open
2026-05-08T06:00:01Z,check,open
2026-05-08T06:02:00Z,check,shut
2026-05-08T06:02:00Z,check,open
2026-05-08T06:02:05Z,alert,delivered
2026-05-08T06:02:05Z,alert,failed
2026-05-08T06:03:05Z,Alive,OK
2026-05-08T06:04:05Z,low battery,no
2026-05-08T06:05:05Z,RESTART,
2026-05-08T06:05:05Z,restart,x
2026-05-08T06:05:05Z,power-on,
2026-05-08T06:05:05Z,check,open
2026-05-08T06:05:05Z,heartbeat,sent
2026-05-08T06:05:05Z,alive,failed
2026-05-08T06:05:05Z,heartbeat,0
2026-05-08T06:05:05Z,alert,0

time;type;contact
2026-05-08 06:00;check;1
2026-05-08 06:02;check;0
2026-05-08 06:04;check;unknown
2026-05-08 06:06;check;
2026-05-08 06:08;check;ajar

time,event
2026-05-08 06:00,boot
2026-05-08 06:02,alert
2026-05-08 06:03,check

when,what,how
2026-05-08 06:00,chk,auf
2026-05-08 06:02,Woken,
2026-05-08 06:04,chk,zu

time,event,value
2026-05-08 06:00,chk,open
2026-05-08 06:02,low-batt,failed
2026-05-08 06:04,ping,sent
2026-05-08 06:06,startup,
2026-05-08 06:08,watchdog,x
2026-05-08 06:10,send,ok
2026-05-08 06:12,see,open
2026-05-08 06:14,,
2026-05-08 06:16,poll,delivered
2026-05-08 06:18,alert,perhaps

time,event,value
2026-05-08 08:00,check,open
2026-05-08 07:30,check,open
2026-05-08 07:00,check,shut

time,event,value
2026-05-08 08:00,check,open
2026-05-08 07:30,check,open

time,event,value
2026-05-08 08:00,check,open
2026-05-08 06:00,check,open
2026-05-08 06:30,power-on,
2026-05-08 09:00,power-on,
2026-05-08 08:59,power-on,

time,event,value
08/05/2026 06:00,check,open
08/05/2026 06:02,check,shut

time,event,value
13/05/2026 06:00,check,open
x,check,shut

time,device,event,value
2026-05-08 06:00,a,check,open
2026-05-08 06:01,b,check,open
2026-05-08 06:02,a,check,shut

time,topic,event,value
2026-05-08 06:00,a,check,open
2026-05-08 06:01,b,check,shut

time,event,value
2026-05-08 06:00,check,"open
2026-05-08 06:01,check

# by the receiver
time,event,value
// and so on
2026-05-08 06:00,check,open,more
2026-05-08 06:01

zeit,was
1,2

time,event,value

{"time":"2026-05-08T06:00Z","event":"check","value":"open"}
{"event":"alert","time":"2026-05-08T06:01Z","value":true}
{"event":"alert","time":"2026-05-08T06:02Z"}
{"time":"2026-05-08T06:03Z","event":"reset","value":null}

[{"time":1778220000,"event":"check","value":1},{"time":1778220060,"event":"check","value":0},
 {"time":1778220120,"event":"chek","value":0}]

[{"time":1778220000,"event":"check","value":1}

{"time":1778220000,"event":"check","value":1}{"x":
`),
  '',
  '\n\n',
  '\ufefftime\tevent\tvalue\r\n1778220000\tcheck\topen\r\n',
];

export const readingLogs: readonly string[] = [
  ...apart(`
time,temperature
2026-05-08T06:00:00Z,4
2026-05-08T06:10:00Z,4.5C
2026-05-08T06:20:00Z,40F
2026-05-08T06:30:00Z,−3°C

timestamp;Temperature (C);note
0;4;x
10m;5;y
1h;6;z

at,celsius
0,4
600,5
600,6
500,7
x,8
,9
700,
800,warm
900,300
1000,5K
1100,4,5

Datetime,temp
2026-05-08 06:00,4
2026-05-08 06:00,4

time,temp_inside
0,4

time,temperature
0,4
32400,5
33000,6
60000,7

time,temperature
33000,6

temperature
4

0,4
1,5

time,temperature
0,"4

{"time":0,"temperature":4}
{"time":"10m","temperature":"40F"}
{"time":"9m","temperature":null}

[{"time":0,"temperature":4},{"time":60

# log
time,temperature
1.5,4
1.5 h,5
90 min,6
2h 5,7
`),
  '',
];

export const kindTexts: readonly string[] = [
  ...[
    '',
    'x',
    '\n# only\n',
    'name: x\n',
    'start: 2026-05-08\nlength: 1d\n',
    'watch:\n  checkInterval: 2m\n',
    '"watch": {}\n',
    'supply: {}\ndoor: []\n',
    'door: []\n',
    'openingsPerHour: []\n',
    'visits: {}\nname: x\n',
    'days: []\n',
    '{"watch": {}}',
    'watch:x\n',
    'Watch: {}\n',
  ],
  ...[
    'direction,gap\nclosing,8mm\n',
    'closing;8\n',
    'opening\t8\n',
    'closing 8\n',
    'meter,volts\n1,2\n',
    'volts;reading\n',
    'voltsx,1\n',
    'step,message\n1,none\n',
    '1,none\n',
    '1;no\n',
    '1,0:45\n',
    '12,1:00:45\n',
    '1,x\n',
    'time,temperature\n2026-05-08,4\n',
    'time,temp\n2026-05-08,4\n',
    'time,"temperature"\n1778220000,4\n',
    'time,celsius (C)\n8.5.2026,4\n',
    'time,temperature,more\n2026-05-08,4,5\n',
  ],
  ...[
    'time,state\n2026-05-08 06:00,open\n',
    '2026-05-08 06:00,open\n',
    'time;state\n8.5.26;shut\n',
    'time|state\n1778220000123|on\n',
    'time,event\n2026-05-08 06:00,open\n',
    'time,topic,state\n2026-05-08 06:00,x,open\n',
    '{"time":1778220000,"state":"open"}\n',
    ' {"time":1778220000,"state":true} \n',
    '{"time":17782200001,"state":"open"}\n',
    'time,event,value\n2026-05-08 06:00,check,open\n2026-05-08 06:02,alert,ok\n',
    'time,event,value\n2026-05-08 06:00,check,open\n2026-05-08 06:02,seen,open\n',
    '2026-05-08 06:00,heartbeat\n2026-05-08 06:00,open\n2026-05-08 06:00,low-battery\n',
    '2026-05-08 06:00,checks,opens\n',
    '2026-05-08 06:00 open\n',
    '2026-05-08,4\n2026-05-08,open\n2026-05-08,5\n',
    '2026-05-08,opening\n',
    '1/2/26\topen\n',
    '\ufeff# x\r\n2026-05-08,open\r\n',
    '2026-05-08,open\r2026-05-09,shut\r',
    `${'x\n'.repeat(12)}2026-05-08,open\n`,
    `${'x\n'.repeat(11)}2026-05-08,open\n`,
    `# ${'x'.repeat(20_001)}\n2026-05-08,open\n`,
  ],
];

export const wrappedTexts: readonly string[] = [
  ...[
    '',
    '[]',
    '5',
    '{',
    '{}',
    '{"rows":[]}',
    '{"rows":[1,2]}',
    '{"rows":[{"time":1}]}',
    '{"rows":[[1,2]]}',
    '\ufeff{"a":1,\n "rows" : [\n {"t":"]","u":[1]}\n], "b":2}\n',
    '{"a":[{"t":1}],"b":[{"t":2}]}',
    '{"a":[{"t":1}],"b":[1]}',
    '{"data":{"rows":[{"t":1}]}}',
    '{"data":{"more":{"rows":[{"t":1}]}}}',
    '{"a":{"b":{"c":{"d":{"rows":[{"t":1}]}}}}}',
    '{"a":{"rows":[{"t":1}]},"b":{"rows":[{"t":2}]}}',
    '{"door":[{"at":1}]}',
    '{"watch":{},"rows":[{"t":1}]}',
    '{"length":"1d","rows":[{"t":1}]}',
    '{"judge":1,"rows":[{"t":1}]}',
    '{"a.b (c)":[{"t":"\\"[","x":"\\\\"}],"z":1}',
    '{"rows":[null,{"t":1}]}',
    '{"rows":{"x":1}}',
  ],
  ...[
    '{"2026-05-08 06:00":"open","2026-05-08 06:10":"shut"}',
    '{"2026-05-08 06:00":"open"}',
    '{"2026-05-08 06:00":"open","x":"shut"}',
    '{"2026-05-08 06:00":{"s":1},"2026-05-08 06:10":{"s":0}}',
    '{"time":[1,2],"state":["open","shut"]}',
    '{"time":[1,2],"state":["open"]}',
    '{"time":[1],"state":["open"]}',
    '{"time":[1,2],"state":[{"a":1},2]}',
    '{"time":[1,2]}',
    '{"time":[1,2],"state":["open","shut"],"name":"x"}',
    `{${Array.from({ length: 70 }, (_, at) => `"c${String(at)}":[1,2]`).join(',')}}`,
    '{"time":[],"state":[]}',
    '[1]',
  ],
];
