//! How the page looks: paper and screen, light and dark, wide and narrow. No colour says anything by itself.

/// The whole style sheet; holds no character that markup would take for its own.
pub(super) const CSS: &str = "
:root{color-scheme:light dark;--ink:#16181a;--paper:#ffffff;--dim:#5a6068;--rule:#b9bec4;--band:#f1f3f5}
@media (prefers-color-scheme:dark){:root{--ink:#e6e8ea;--paper:#15171a;--dim:#a3abb3;--rule:#454b52;--band:#20242a}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:1rem;max-width:64rem;background:var(--paper);color:var(--ink);font:16px/1.45 system-ui,sans-serif}
h1{font-size:1.7rem;line-height:1.2;margin:.4em 0;overflow-wrap:anywhere}
h2{font-size:1.25rem;margin:2em 0 .5em;padding-top:.4em;border-top:2px solid var(--ink)}
h3{font-size:1.05rem;margin:1.5em 0 .4em}
p,ul,dl{margin:.5em 0}
li,dd,p,figcaption,caption{overflow-wrap:anywhere}
th,td{overflow-wrap:break-word}
a{color:inherit}
nav ul{columns:3 12rem;list-style:none;padding:0}
.dim,.under td,figcaption,caption{color:var(--dim)}
.caution{border:3px solid var(--ink);padding:.6em .9em;font-weight:600}
.verdict{border-left:.5em solid var(--ink);padding:.2em .8em;background:var(--band)}
.verdict strong{text-transform:uppercase;letter-spacing:.04em}
.facts{display:grid;grid-template-columns:repeat(auto-fill,minmax(13.5rem,1fr));gap:.35rem .9rem}
.facts div{border-bottom:1px solid var(--rule);padding:.15rem 0}
.facts dt{color:var(--dim);font-size:.85rem}
.facts dd{margin:0;font-variant-numeric:tabular-nums}
.scroll{overflow-x:auto;margin:.8em 0}
table{border-collapse:collapse;width:100%;font-size:.88rem}
caption{text-align:left;padding:.2em 0;font-weight:600}
th,td{padding:.22em .5em .22em 0;text-align:left;vertical-align:top;border-bottom:1px solid var(--rule);font-weight:400}
thead th{border-bottom:2px solid var(--ink);font-weight:600;vertical-align:bottom}
.n{text-align:right;font-variant-numeric:tabular-nums}
td.n,tbody th.n{white-space:nowrap}
td.n,th.n{padding-left:.5em}
.n+td:not(.n),.n+th:not(.n){padding-left:.7em}
tr.head th,tr.head td{font-weight:700;background:var(--band)}
tr.sum th,tr.sum td{font-weight:700;border-top:2px solid var(--ink)}
tr.short th,tr.short td{font-weight:700}
.under td{font-size:.82rem;padding:.1em 0 .5em 1.2em}
.whole{white-space:nowrap}
.src{font-size:.85em}
figure{margin:1em 0;overflow-x:auto}
svg{display:block;width:100%;height:auto;color:var(--ink);font-family:system-ui,sans-serif}
.wide svg{min-width:44rem}
.plots{display:grid;grid-template-columns:repeat(auto-fill,minmax(20rem,1fr));gap:0 1.2rem}
figcaption{font-size:.85rem;padding-left:.2em}
.paper{fill:var(--paper)}
.sources dt{font-weight:600;margin-top:.5em}
.sources dd{margin-left:1.2em}
.sources :target,:target{outline:2px solid var(--ink);outline-offset:3px}
@media print{
:root{color-scheme:light;--ink:#000;--paper:#fff;--dim:#333;--rule:#888;--band:#eee}
@page{size:A4;margin:13mm 12mm}
html,body{font-size:9.5pt}
body{max-width:none;padding:0}
h2,h3,caption,figcaption,.sources dt{break-after:avoid}
tr,figure,.caution,.verdict,.facts div,.sources div{break-inside:avoid}
tr:has(+ tr.under){break-after:avoid}
thead{display:table-header-group}
.scroll,figure{overflow:visible}
.wide svg{min-width:0}
.plots{grid-template-columns:1fr 1fr}
.facts{grid-template-columns:1fr 1fr 1fr}
table{font-size:8pt}
.under td{font-size:7.5pt}
.wing{break-before:page}
.wing:first-of-type{break-before:auto}
a{text-decoration:none}
}
";
