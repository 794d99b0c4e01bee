//! The document around the pages, and how they look: black on white, nothing from elsewhere.

use super::escape::plain;

/// The usual sheet of paper: what its head, its foot and its middle are.
pub(in crate::render) struct Section {
    pub(in crate::render) head: String,
    pub(in crate::render) body: String,
    pub(in crate::render) foot: String,
    /// Points that the letters of the body are high.
    pub(in crate::render) letters: f64,
}

/// Head and foot come again wherever a section goes on on another page.
const STYLE: &str = "\
*{box-sizing:border-box}\n\
html{background:#fff;color:#000;-webkit-text-size-adjust:none;text-size-adjust:none}\n\
body{margin:0;font-family:\"Liberation Sans\",Arial,Helvetica,sans-serif;line-height:1.17;\
font-variant-numeric:tabular-nums}\n\
section{margin:0 auto;break-after:page;overflow-wrap:anywhere}\n\
section:last-child{break-after:auto}\n\
.frame{width:100%;border-collapse:collapse;table-layout:fixed}\n\
.frame>*>tr>td{padding:0;vertical-align:top}\n\
h1,h2,p{margin:0}\n\
h2{font-size:1.08em;font-weight:bold;padding-top:.5em;break-after:avoid}\n\
p{padding-bottom:.15em;orphans:2;widows:2}\n\
p>b{margin-right:.4em}\n\
p.no-go,.clock p:first-of-type{font-weight:bold}\n\
p.tick{padding-left:1.7em;text-indent:-1.7em}\n\
.box{display:inline-block;width:1.05em;height:1.05em;margin-right:.65em;border:1pt solid #000;\
vertical-align:-.15em}\n\
.verdict{display:flex;align-items:center;gap:8pt;padding-bottom:3pt}\n\
.verdict .word{flex:none;font-weight:bold;line-height:1.1;border:2pt solid #000;padding:0 6pt}\n\
.verdict.no-go .word{border-width:6pt;border-style:double}\n\
.verdict .name{flex:1 1 auto;font-weight:bold;line-height:1.15}\n\
.verdict .place{flex:none;font-size:9pt}\n\
.foot{border-top:1pt solid #000;padding-top:2pt;font-weight:bold;line-height:1.2}\n\
.figures{border-collapse:collapse;table-layout:fixed;line-height:1.17}\n\
.figures th,.figures td{padding:.08em .4em;border-bottom:.4pt solid #000;text-align:left;\
vertical-align:top}\n\
.figures th{font-weight:normal;vertical-align:bottom;border-bottom-width:1pt}\n\
.figures .first{font-weight:bold}\n\
.figures .n,.large .n{text-align:right;white-space:nowrap}\n\
.written td{height:var(--row);vertical-align:bottom}\n\
.large{border-collapse:collapse;table-layout:fixed;line-height:1.06;font-size:var(--others)}\n\
.large th,.large td{padding:1pt 5pt 1pt 5pt;border-bottom:.6pt solid #000;text-align:left}\n\
.large th{font-weight:normal;vertical-align:bottom;border-bottom-width:1.2pt}\n\
.large td:first-child{font-size:var(--names);font-weight:bold}\n\
.large .rest{font-size:var(--others);font-weight:normal}\n\
.large .first{font-size:var(--first);font-weight:bold}\n\
tr,.whole{break-inside:avoid}\n\
thead{break-after:avoid}\n\
.columns{columns:2;column-gap:12pt;column-rule:.5pt solid #000}\n\
figure{margin:0;padding-top:.5em;break-inside:avoid}\n\
figure svg{display:block}\n\
figure h2{padding-top:0}\n\
figcaption{font-size:.85em}\n\
.halves{display:grid;grid-template-columns:1fr 1fr;column-gap:12pt}\n\
.stops{width:100%;border-collapse:collapse;table-layout:fixed}\n\
.stops th{font-weight:normal;font-size:.7em;text-align:right;padding:0 .4em}\n\
.stops td{text-align:right;font-weight:bold;padding:.08em .4em 0;white-space:nowrap;\
border-top:1pt solid #000}\n\
.stops td.words{text-align:left;font-weight:normal;font-size:.75em;padding-top:0;border-top:0;\
white-space:normal}\n\
.cut{border-top:1pt dashed #000;margin-top:6pt;padding-top:2pt;font-size:7pt}\n";

/// The whole document; `page` is its `@page` rule's inside, `wide` how wide a section is.
pub(in crate::render) fn document(
    title: &str,
    page: &str,
    wide: &str,
    sections: &[Section],
) -> String {
    let mut html = format!(
        "<!DOCTYPE html>\n<html lang=\"en\" dir=\"ltr\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <meta name=\"viewport\" content=\"width=device-width\">\n<title>{}</title>\n\
         <style>\n@page{{{page}}}\n{STYLE}section{{width:{wide}}}\n</style>\n</head>\n<body>\n",
        plain(title)
    );
    for section in sections {
        html.push_str(&format!(
            "<section style=\"font-size:{:.2}pt\">\n<table class=\"frame\">\n<thead><tr><td>{}</td></tr></thead>\n\
             <tfoot><tr><td>{}</td></tr></tfoot>\n<tbody><tr><td>\n{}</td></tr></tbody>\n</table>\n</section>\n",
            section.letters, section.head, section.foot, section.body
        ));
    }
    html.push_str("</body>\n</html>\n");
    html
}
