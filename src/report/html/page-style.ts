import { quoteForStyle } from './escape.js';
import { issueFoot } from './issue-mark.js';

const screen = `
:root{--ink:#1b2430;--soft:#56616e;--rule:#c3cad2;--pale:#f1f3f6;--accent:#27496d}
*{box-sizing:border-box}
html{font:15px/1.5 system-ui,-apple-system,"Segoe UI","Noto Sans","Liberation Sans",sans-serif;color:var(--ink);background:#fff;scroll-behavior:smooth}
body{margin:0}
a{color:var(--accent)}
.skip{position:absolute;left:-99em}.skip:focus{left:1em;top:1em;background:#fff;padding:.4em;z-index:2}
header,main{max-width:58rem;margin:0 auto;padding:1.5rem 1.5rem 0}main{padding-bottom:5rem}
nav{max-width:58rem;margin:0 auto;padding:1rem 1.5rem;font-size:.86rem}
nav ol{list-style:none;margin:0;padding:0}nav ol ol{padding-left:1.6em;margin-bottom:.35em}
nav a{display:block;padding:.12em 0 .12em 1.9em;text-indent:-1.9em;text-decoration:none;color:var(--ink)}nav a:hover{text-decoration:underline}
nav h2{font-size:.95rem;margin:0 0 .5em}
@media(min-width:72rem){
body{display:grid;grid-template-columns:19rem minmax(0,1fr);grid-template-rows:auto 1fr}
nav{grid-area:1/1/3/2;position:sticky;top:0;align-self:start;height:100vh;margin:0;overflow:auto;border-right:1px solid var(--rule);background:var(--pale)}
header,main{grid-column:2;width:100%}}
.place{color:var(--soft);font-variant-numeric:tabular-nums;margin-right:.35em}
.banner{max-width:none;margin:0 0 1.4rem;padding:.35em .9em;border:1.5px solid var(--ink);font-weight:650;
background:repeating-linear-gradient(135deg,#fff 0 9px,#e6e9ed 9px 18px)}
h1{font-size:1.85rem;line-height:1.2;margin:0 0 .2em;letter-spacing:-.01em}
.issue{margin:0 0 .9em}
.subtitle{font-size:1.1rem;color:var(--soft);margin:0 0 1.1em}
h2,h3,h4,h5,h6{line-height:1.25;margin:1.9em 0 .6em}
h2{font-size:1.35rem;border-top:2px solid var(--ink);padding-top:.5em;margin-top:2.6em}
h3{font-size:1.1rem}h4,h5,h6{font-size:1rem}
.clause{float:right;font-size:.76rem;font-weight:400;color:var(--soft);margin-left:1em;padding-top:.3em}
p,ul,ol{margin:.6em 0}p{max-width:46em}
.facts{margin:.9em 0;display:grid;grid-template-columns:repeat(auto-fill,minmax(17rem,1fr));gap:0 1.8rem}
.facts div{display:flex;gap:.8em;border-bottom:1px solid var(--rule);padding:.22em 0;break-inside:avoid}
.facts dt{flex:0 0 38%;color:var(--soft);font-size:.86rem}.facts dd{margin:0;font-size:.9rem;overflow-wrap:anywhere}
.caution{border-left:6px double var(--ink);padding:.2em 0 .2em .9em;margin:.8em 0}
.caution strong{font-size:.8rem;letter-spacing:.06em;text-transform:uppercase;margin-right:.5em}
.table{margin:1.1em 0;overflow-x:auto}
table{border-collapse:collapse;font-size:.84rem;line-height:1.35;min-width:60%}
body{counter-reset:table figure}
.table:not(details *) caption::before{counter-increment:table;content:"Table " counter(table) ". ";color:var(--soft)}
figcaption::before{counter-increment:figure;content:"Figure " counter(figure) ". ";color:var(--soft);font-weight:600}
caption{caption-side:top;text-align:left;font-weight:600;padding:0 0 .4em;font-size:.92rem}
th,td{padding:.26em .65em;text-align:left;vertical-align:top;font-weight:400}
thead th{border-top:1.5px solid var(--ink);border-bottom:1px solid var(--ink);font-weight:600;vertical-align:bottom;padding-top:.35em;padding-bottom:.35em}
tbody td,tbody th{border-bottom:1px solid #e2e6ea}tbody:last-child tr:last-child>*{border-bottom:1.5px solid var(--ink)}
.group>*{background:var(--pale);font-weight:600;border-top:1px solid var(--rule)}
.unit{color:var(--soft);font-weight:400;font-size:.92em;white-space:nowrap}thead .unit{display:block}
td.number,th.number{text-align:right;font-variant-numeric:tabular-nums lining-nums}td.number{white-space:nowrap}
.rest{display:inline-block;text-align:left}
td.number.empty{white-space:normal}th:first-child,td:first-child{padding-left:.2em}
td.date{white-space:nowrap}
td.empty{color:var(--soft);font-style:italic}
.verdict{display:inline-flex;align-items:center;gap:.4em;white-space:nowrap}.verdict svg{flex:none}
[data-verdict="not met"],[data-verdict="not shown"]{font-weight:650}
.notes{margin:.45em 0 0;padding-left:1.1em;font-size:.8rem;color:var(--soft);max-width:58em}
.source{display:block;color:var(--soft);font-size:.9em}
.budget table{width:100%}.budget tbody th{overflow-wrap:anywhere;max-width:21em}.share{min-width:5.4em}
.bar{display:block;height:3px;background:#dfe3e8;margin-top:.25em}.bar span{display:block;height:3px;background:var(--ink)}
figure{margin:1.4em 0;max-width:680px}figcaption{font-size:.88rem;margin:.2em 0 .3em}
.plot{overflow-x:auto}
summary{font-size:.8rem;color:var(--soft);cursor:pointer}
.equation{margin:.9em 0;padding:.55em .9em;background:var(--pale);overflow-x:auto;display:grid;grid-template-columns:1fr auto;gap:.2em 1.2em;align-items:center}
.equation math{font-size:1.12rem;text-align:left;justify-self:start}.equation code{grid-column:1/-1;font-size:.74rem;color:var(--soft)}
.signatures table{width:100%}.signatures td{height:2.9em;border:1px solid var(--rule)}.signatures th{padding:.5em}
`;

const print = `
@page{size:A4;margin:20mm 15mm 17mm}
@media print{
html{font-size:9.6pt;line-height:1.4;scroll-behavior:auto}
body{display:block}.skip,summary{display:none}
header,main,nav{max-width:none;padding:0;margin:0}
nav{position:static;height:auto;border:0;background:none;overflow:visible;columns:3;column-gap:1.4em;margin-top:1em}
nav ol ol{display:none}nav h2{column-span:all;margin-top:0}nav li{break-inside:avoid}
a{color:inherit;text-decoration:none}
h2,h3,h4,h5,h6,caption,.group{break-after:avoid}h2{margin-top:1.5em}
.starts-page{break-before:page}.starts-page>h2{margin-top:0}
.table{overflow:visible}thead{display:table-header-group}tr,figure,.caution,.equation,.signatures,.verdict{break-inside:avoid}
.banner{margin-bottom:.7rem}h1{font-size:1.6rem}table{font-size:7.6pt;line-height:1.3}th,td{padding:.17em .42em}.wide table{font-size:7pt}.wide th,.wide td{padding-left:.25em;padding-right:.25em}.verdict{white-space:normal;vertical-align:top}.facts{break-after:avoid}p{orphans:3;widows:3}
details:not([open]){display:none}
*{-webkit-print-color-adjust:exact;print-color-adjust:exact}
}
`;

/** Style of every report page. Shapes, rules and weight carry the meaning; the one hue is an ornament. */
export const pageStyle = `${screen}${print}`;

/** Heads and feet of printed pages: the banner stands at the top of each, title, issue and page number at the foot. */
export function runningHeads(banner: string, title: string): string {
  const face = 'font:8pt system-ui,"Liberation Sans",sans-serif;color:#1b2430';
  const head = banner === '' ? '' : `@top-center{content:${quoteForStyle(banner)};${face};font-weight:bold}`;
  const foot =
    `@bottom-left{content:${quoteForStyle(title)};${face}}` +
    `${issueFoot};${face};font-weight:bold;white-space:nowrap}` +
    `@bottom-right{content:"page " counter(page) " of " counter(pages);${face}}`;
  return `@page{${head}${foot}}`;
}
