import { type DocumentWords, documentDate } from './document-words.js';

const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);

/** The metadata packet (ISO 16684-1); it repeats what the document information says. */
export const xmpPacket = (
  words: DocumentWords,
  producer: string,
  press: boolean,
): string => `<?xpacket begin="\uFEFF" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
 <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
  <rdf:Description rdf:about=""
    xmlns:dc="http://purl.org/dc/elements/1.1/"
    xmlns:xmp="http://ns.adobe.com/xap/1.0/"
    xmlns:pdf="http://ns.adobe.com/pdf/1.3/"${
      press
        ? `
    xmlns:pdfx="http://ns.adobe.com/pdfx/1.3/"`
        : ''
    }>
   <dc:format>application/pdf</dc:format>
   <dc:title><rdf:Alt><rdf:li xml:lang="x-default">${escaped(words.title)}</rdf:li></rdf:Alt></dc:title>
   <dc:language><rdf:Bag><rdf:li>${escaped(words.language)}</rdf:li></rdf:Bag></dc:language>${
     words.subject === undefined
       ? ''
       : `
   <dc:description><rdf:Alt><rdf:li xml:lang="x-default">${escaped(words.subject)}</rdf:li></rdf:Alt></dc:description>`
   }
   <xmp:CreatorTool>${escaped(producer)}</xmp:CreatorTool>
   <xmp:CreateDate>${documentDate(words)}</xmp:CreateDate>
   <xmp:ModifyDate>${documentDate(words)}</xmp:ModifyDate>
   <pdf:Producer>${escaped(producer)}</pdf:Producer>
   <pdf:Trapped>False</pdf:Trapped>${
     press
       ? `
   <pdfx:GTS_PDFXVersion>PDF/X-1a:2003</pdfx:GTS_PDFXVersion>`
       : ''
   }
  </rdf:Description>
 </rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>`;
