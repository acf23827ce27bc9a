"""How summary.html looks: black on white, one column, large figures for what is bought and measured."""

from __future__ import annotations

STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem 1rem 3rem; max-width: 46rem; background: #fff; color: #000;
  font: 1.05rem/1.45 system-ui, "Segoe UI", "DejaVu Sans", Verdana, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.25rem; margin: 2.4rem 0 .6rem; padding-top: .5rem; border-top: 3px solid #000; }
h3 { font-size: 1.05rem; margin: 1.4rem 0 .3rem; }
p { margin: .4rem 0; }
ul, ol { margin: .3rem 0; padding-left: 1.3rem; }
li { margin: .3rem 0; }
a { color: #000; }
.plain { list-style: none; padding-left: 0; }
.large { font-size: 1.9rem; font-weight: 700; line-height: 1.2; }
.size { font-size: 1.35rem; font-weight: 700; white-space: nowrap; }
.small { font-size: .9rem; }
.must { border: 4px solid #000; padding: .7rem .9rem; margin: 1rem 0; }
.must strong { font-size: 1.15rem; }
.item { padding: .55rem 0; border-bottom: 1px solid #000; }
figure { margin: 1rem 0 1.8rem; }
figcaption { font-weight: 700; margin-bottom: .4rem; }
figure svg { display: block; width: 100%; height: auto; max-height: 92vh; }
figure.long svg { max-height: none; max-width: 26rem; margin: 0 auto; }
table { border-collapse: collapse; width: 100%; margin: .4rem 0 1rem; }
th, td { text-align: left; vertical-align: top; padding: .45rem .7rem .45rem 0; border-bottom: 1px solid #000;
  overflow-wrap: break-word; }
th { border-bottom: 2px solid #000; font-size: .9rem; }
td .size { white-space: normal; }
td:first-child, td:first-child .size { white-space: nowrap; }
dl { margin: .4rem 0; }
dt { font-weight: 700; font-size: .9rem; margin-top: .4rem; }
dd { margin: 0; }
@media print {
  body { max-width: none; padding: 0; font-size: 10.5pt; }
  .item, .must, figure, li, tr { break-inside: avoid; }
  h2, h3 { break-after: avoid; }
  figure svg { max-height: 18cm; }
  figure.long { break-inside: auto; }
  figure.long svg { max-height: none; max-width: 9cm; }
  a { text-decoration: none; }
}
"""
