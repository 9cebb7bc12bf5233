const EDITION = "9a8605ef0401567a";
const PREFIX = `stepward ${new URL("./", self.location.href).pathname} `;
const FILES = {
  "assets/hand-over-299ff4200117.js": "6056b17c244e1f459fc463c89a08b82f03a147de65ab2f201058aa5a97bb212f",
  "assets/plain-92005b7c73f9.js": "c7999f16c3f8e2a4be2c8ec5c1bf81b21b4654be7517bdddde52da03e75253fe",
  "assets/procedure-f8958649174a.js": "9450ea9382d6f86625e8396de025de44b3dc821f93e56e551aae23ab86e40e0d",
  "assets/style-7cf0307b6969.css": "5741b72ac3517f932123bb51a5bfb8f359e5903e3bbd3a4d0a95085cb4f3d359",
  "icon.svg": "7bf70d9e76317565d0b9ec4ff479ff0d8dd0e737f496e709cc8ba0e2672f4b11",
  "index.html": "18f391841cd108ef283b4fc59a2d233622ad36111d84c3ee03462dc62f88eb21",
  "leaflets/about.html": "3eaaf9033459dcc3611b72dbbf26f4e346ebff426caf8e800ff22ced1ffedb64",
  "leaflets/glossary.html": "feaea75377b500a95da0ed896859b154a1006ceba7834400dff5b8b5e754e3e0",
  "procedures/change-cartridge.html": "1096659637253ab26862135d1f349a9a6205143dfb40c258c87ddf3bd4a65d69",
  "procedures/dirt-on-the-back.html": "0d2b256e44c19b49bb065c7caeb38a119e714e0af23326a126c15ef7f1df978f",
  "procedures/grey-background.html": "eaca4ecb7e226589c7474ab84a8d71c7ba70602b7b954c6626cfb83c564f3726",
  "procedures/isolate.html": "e6335056e772eb3c21afa9e22a15446fdaec6f15c9a5fb514c7863b070ec2bb1",
  "procedures/line-along-the-feed.html": "6336f96e94b1d1f26b4ca5d3b29e52426647ab3d264392679cd5248cc5b63adc",
  "procedures/repeating-marks.html": "a0cb9c4acba9d1566060e7d8fd85fea55e1ba31f82cd795449e0066dc3f7d39e",
  "procedures/restore-power.html": "8cdd3acba0ba467fa2a58d09a212bd04dc687a30cb85e5538c5273168cf525cb",
  "procedures/toner-rubs-off.html": "8ee1ecc82321d933530281272db6531021dbffa00dd8ecc3cd6277639eb9888c",
  "procedures/white-sheet.html": "9355c426b3be9cbec045090e91e4f0f76a79b9bbb36bcf390fb88ecb0de7b1f6",
  "procedures/wipe-the-fuser.html": "12a4f80a337dbbd51439ec99434a8768103f5d959755afcf4de63ee85733d3df",
  "procedures/wrong-content.html": "10961b116837286484d69f241653eea1b93f4d63b84b93b49227875b96df0aa6",
  "review/change-cartridge.html": "3a58e66efcd917cd383679c569c14672762bbb005f6dfcc676b7fe7b2da78a72",
  "review/dirt-on-the-back.html": "f6db7d6f3d9080b0d214d9e3fdbefb136a12fed1bd60ba64d11a05a31c692559",
  "review/grey-background.html": "5288686a11d83c4ebd6f1c08751447ce6042c634aa747e903383cbc450be2e7c",
  "review/index.html": "b123e47e93ce2f0f4ec65f66f7abb1afa2909363a181fa705efbdd8747db204d",
  "review/isolate.html": "c0beb81b86ac35f6a767e9dca899fe0a3d37b77aa42f800d2cd31db605a1fcd6",
  "review/line-along-the-feed.html": "72dd7bc1ee5037db0870e2d98ffc4d13b43406436a5f24903462e2dd53d9ea86",
  "review/repeating-marks.html": "dde0bf7db76e90e731bb6af4ed4c2828b5b543b42a6b01f78ff56adc4fc3a759",
  "review/restore-power.html": "39661f0e92aba56f3dffa70924ff11394d9410b795827b976e38560d6af357f7",
  "review/toner-rubs-off.html": "c9343554f25d853c61a7bc4cd8cc2fb08599f75e2625abd3492f5097a7606765",
  "review/white-sheet.html": "a3e227b251134b5747a06861b2e2f7a29ee798f43bdf044f9882d33fc638344e",
  "review/wrong-content.html": "84de29fd50e97f4b81fdca6265fe5b3525c9b2b3e94fcdcbb1de10818a6c71bb",
  "rules/acts-many.html": "105a650bd96d1e4110f0de878d576eef58534402668575a11c7be99ed19e0b5e",
  "rules/approval-by-owner.html": "325b9da139a63f5a380fc0b0fbf91984236d3cbc9c245563d169ebb587cc5ce6",
  "rules/approval-missing.html": "44e5c3a7e5ca9e254a159e5237d85cc0c0a6e0f4b4dd61d4e7c99f5b13e385ba",
  "rules/approval-stale.html": "0208434faadbdf15279c9b9d73c10cedaff05c7323ab0a688c24062148973dfb",
  "rules/bad-id.html": "b481858d3bffc592fdaa3375591905a2cb977ce56c609f192bcec84689c03437",
  "rules/bands-not-ascending.html": "11943bc91960f832698e604b30dae0568460d58b4ad10e5f3ae77281c8687d5a",
  "rules/beyond-competence.html": "5fafa9a2fcee2f10f657cff8006a1a013d1b93b29533a0e3ee7be052660e6870",
  "rules/branch-without-action.html": "11428b1c6d73648a1f3c6bf5da6c8ddb28cd844539e94d4469297d7b2299f85f",
  "rules/caution-idle.html": "8f6af767b0dc766d999c11252decfdec619e4e6f7487e07334e20e83607a94e7",
  "rules/caution-incomplete.html": "a388e64581cd59d6c94bf9a89814b1dda5a82750d75ef05c60036b0d78eac7fc",
  "rules/caution-missing.html": "9b93e9dfe29bbcc977d340b39fd59a0932965cb2700b89cb4f4317ad40a6b5c2",
  "rules/caution-out-of-date.html": "1df50a766439a8b0b047a6972b0e1a413fe51d22996fd8a9996363347a264196",
  "rules/cautions-many.html": "dae3db5200a1542c56b539a98000bd508fef645d4382119a55aee237a649b1a0",
  "rules/code-nowhere.html": "26a420cb2a08b2896d1496ca08f00db9ab63cb51b6175ae5a0646ad91f7e94f7",
  "rules/code-shared.html": "8e68d5ea569127fd12ff6bf77b34d672b68c5543237ad7a90b73980b3a61c24c",
  "rules/condition-not-met.html": "d85dbb8d133cfadfcc001a4ee462caa32c31f39246e0b1f0941c343a98ca74c6",
  "rules/condition-undeclared.html": "286ba765ff0bbeac110d7565fe6e66dff573c2c9669bf4d910321281494eddc8",
  "rules/denial-idle.html": "8eed80e98ad97f3d984f292f7352706f3845076c280e087263a939f74848c87c",
  "rules/denial-refused.html": "2099ef8a5668dd5ec9dea4dddb4d99d38466586aae38f7a3e464d765cf2bc475",
  "rules/duplicate-answer.html": "bb51c7976fc8ea29dbee96447fc5dd1b4b614ee60d46cc23f09f2a08b3138223",
  "rules/duplicate-key.html": "038fad65e5a0dd7b9fe7695c4047398ec11d380dccbef949ad8a2a00cd959514",
  "rules/duplicate-procedure.html": "53956124ae6f560f1b1ad8591627a2e43da6777a49fdc89a7207bea730c3ac34",
  "rules/fixed-unchecked.html": "048e4fc53fcf667c3e49951966b03d6f7dddce24e84acc501ba2a2deaec4dda6",
  "rules/formula-invalid.html": "b39bf1742317789b3e7fa999556eeebd6c0d056db1c3ed1732c294436416d345",
  "rules/front-matter-invalid.html": "fe69e70a41dfcf41edb5498a11b4046937265ff03e81038007224368fa75a4db",
  "rules/front-matter-missing.html": "0b446b8c2ba9a70814441066bd6cca5591fd84951b38fb94e2f3cb7c6dd49f5e",
  "rules/hazard-uncontrolled.html": "24ebbf2b7b67592c6127c2fbdc0c7de5b008709117bbe4788fc4db4368ae9922",
  "rules/hazard-undeclared.html": "783a18edb7c6765b818a28b4c8df63cc21120a898148e863317443a2c8e79cec",
  "rules/hazard-without-words.html": "a40b9c2d26b2bcf32ce9cdcbf10e110c4ac6ce592f4c305dd55da399d097394b",
  "rules/heading-order.html": "fa948d7089beea5e2b98059dbcdc87499d5674f7f070239ff300d3adbd5419a5",
  "rules/index.html": "8b290a03d4840a6688b6fa01f465424d30677fa7ff4275cbcd22b2cc25adb95c",
  "rules/instruction-long.html": "92b9c69ea32ae5c529b04e3a0bf5b61bdbc42fd6e80f754535f0002ac46693db",
  "rules/instruction-vague.html": "b400193e594c280b20c040d96e6a1e28f26ea2d7417acd5a5ff605638dad0c48",
  "rules/key-missing.html": "330099ac5df8344e9f20ed8140fc28747a9ddc100aecf6fa22cc0d429fcd24d5",
  "rules/leads-to-unreleased.html": "966d1b69b5b76b1febc6a25ae0fe75db999748821aa4413530bd288efa26fb2c",
  "rules/leads-to-withdrawn.html": "a53f720ca1814d06db7604bb0ee4d30d42df0374bb3143d6bb2df95374b35b46",
  "rules/left-behind.html": "52af9e80bfe6561dd743adf95805c76db11586e0a3f55d02851e368d84fafa26",
  "rules/limit-idle.html": "dc4874619ce6ab1f64e98b12dc2ef367a684bc9925fd9540541fc0cc5edbfb1f",
  "rules/link-broken.html": "a4314ddb533db5c4dd0a9210f3852331b084d5da498fd49ef3a151c49a694fd8",
  "rules/link-leaves-flow.html": "bddfc08f7bf19f3cf8639e24e8bd63c58a6fb02557c8893ad722617e72eaa493",
  "rules/loop-unbounded.html": "c18f78c3ca079fd07cdce558a3af0c2bf8aa979262d48c69901b5be7fa487109",
  "rules/model-uncovered.html": "8f08f9304321918e2953022210f2a494246309bee1ea47b656098159965dc6a9",
  "rules/no-way-out.html": "8cc1504420ea0140691896782aa46a368d532189d81a0fe13de9209cb781dfdb",
  "rules/not-tried-out.html": "b74504958e205d888da22a8342a55b0e606dd8ac466f639c74ce8b490535179e",
  "rules/not-utf8.html": "65e41d4e92f1ac1f0f4195034897e1424651d31058bcf02de6609e04705cb80b",
  "rules/otherwise-missing.html": "9ea93867fc2b5ec80a45cc463f016c8b9b79b4972859800520437326842e8d5f",
  "rules/outcome-impossible.html": "c6f735ef8f5fe581b7169af482a939629eb6d0eb3b034533fb9916ae6fc23c4e",
  "rules/outcome-unmapped.html": "46ce26d5a60c04a1d8f1b7fd11458395350f4fc927848156f572c64a476a943e",
  "rules/outside-library.html": "9d702ab9157a792bfcf7b9c30a5c19fc9622d9dc5a714daa49571f8e367e7f6b",
  "rules/part-without-words.html": "9445629523953c3f6c38c0ce678bbc17004cd61253f24c755bda1b77f82ef552",
  "rules/person-unasked.html": "efb1354d9225cf5ac0fa8fa31bfa457d53d1ef359e8849b4badcc486f8839e27",
  "rules/picture-missing.html": "29953ec3fc2de505d0b1835e7399a3c1658ce36001dac87403be244f57594d19",
  "rules/picture-without-words.html": "ae071d8135837bc067f2f1e12f2c4c36b48ace5338b2a3e3e51f6646bcbfb86b",
  "rules/procedure-circle.html": "6f1b2f1b758dd485ecf076c082d7b19354c754f68989b4214b51baa037502117",
  "rules/raw-html.html": "9739aa930eca1e72c163801fdc8205f84d6215cb0805e1253970c0207ba17d72",
  "rules/reach-undeclared.html": "cfc21201441ad830d6d39ed713a37180978859e9e8a22f217303e48bcdb6da85",
  "rules/refers-in-a-circle.html": "301ddbd0b73283f217b9abc1456e7bd48a2f0b795258d35144af7e7cf742a937",
  "rules/refers-nowhere.html": "3fd9d636dcf8ac77a112704a2f9b8a529839e53d7027e29d8a475d8e8035072a",
  "rules/review-overdue.html": "5590d7774fe7b497faa876893f4d74de6d0d9b95e19b85c2c3bf2b61a1e069ce",
  "rules/step-kind-unclear.html": "7710bce37cd58535a6e976346ace3a385d80eccce766553b15aec26dd2ab66fa",
  "rules/step-unreachable.html": "8897ee2d9b588ea8f0876a5ae075af5a9a496cb2cc04bbcde7fb06b0f87c15f8",
  "rules/step-without-words.html": "e7b83a289ef4b525350369f614c2b38e5c5b5cbe9126c21cf8b799a845432a63",
  "rules/stop-card-missing.html": "45100f27bfbf7ce1803a97ef6f3db07a8a3e41a0f1e8853abf2cc948677f9ab1",
  "rules/text-cut-short.html": "31d84b7523c2ade6163ca62306d879d02d970fa903624c01b87dea7081a72fed",
  "rules/too-deep.html": "2bea4aeb442d40b7883f2dc5e10bf76e1a2cde2904045a5d7114337634255854",
  "rules/too-few-answers.html": "32d183f77f4fac358c2c673a93eb253b71ae321da220401935637b6dec41eb1e",
  "rules/too-many-answers.html": "51209504e822f1d020c6097506e427ed76707346023c274c7b0892c4b29dc448",
  "rules/unit-mismatch.html": "d553bec3924b4d89994e582273eef2d0145f9c84d428f2fcad01571c7ae45219",
  "rules/unknown-condition.html": "422669a79fe8b1a8976ef24b86ce29af5d6313011087ec4bbcc43a574f40aad9",
  "rules/unknown-hazard.html": "754be2b87edba6917bf278610d219f8ad8ca59f4310f969a0b36bdfa5fddd0a8",
  "rules/unknown-key.html": "edcec2ac4936382b58e4c6e3aaa69e6641169cc3e3c76a139788e8e74eafa937",
  "rules/unknown-model.html": "53efd6d7416c5de96f3f078a55ae857127479202a85cd78f34ae05fb3862f186",
  "rules/unknown-outcome.html": "7deece0e3f78334bdaed5ee4385aef257c29d7362f1abc3545bcdea1caae8d86",
  "rules/unknown-part.html": "e8d6557abac3ad1dc32f1eb754153ff083a5556ce1c47450cb3e599ed5fe45b0",
  "rules/unknown-procedure.html": "96a9c7141421217063cd867545cd18baa5f27b3bddb1c0ab49ddfd72ddca4184",
  "rules/unknown-step.html": "a8bb52cbb86d62cd42961c2db3f88224e548597bf2870375c01d18f901837e8e",
  "rules/unsure-as-clear.html": "509bb6259c6c09cb5d040869b7957bc7f5993ec64c1410d5962a920b24b7162c",
  "rules/unsure-missing.html": "039909c5007018fb2cd18830ebe182d42693c306139c9da864d50e8f6414157e",
  "rules/value-invalid.html": "aeb8f484ea34602497eec9cff8f5c9e105a891b3d55605412d071d6b53fc0548",
  "rules/wait-too-short.html": "8f6bdab3140bcb66bb2bd2339903a46fc98c2330fcee50c963d1d5919c000049",
  "rules/waiver-expired.html": "a95f161b080bfed35785e8f6df3ef668bfa06d957cd37d815ba0aa06d7184849",
  "rules/waiver-incomplete.html": "546512ea26afc3e03a897cabcff99a1892bf80d8b1f14d96100ffba35fdd2cd2",
  "rules/words-without-step.html": "b58b646ae5adbeee718221bc3a9d848a0df8f704e27b69ee6131c83b9455db0a",
  "schemas/record.schema.json": "de0d72f56322eff3435f1bfc6919e2d4b2acfe2f0bc8290cc32e6ef7d7f261ca",
  "site.webmanifest": "3153a76a412f1388d7949f05a3af4c10f13425139a0445944d58fdad47b0ff7d",
  "stop.html": "1a9d6808bad92bcca34dbf17e9b6c569cc524d36aced9e449400df6d4a452f2c"
};
async function fetched(path) {
const response = await fetch(path, { cache: "no-store" });
if (!response.ok) throw new Error(`${path}: ${response.status}`);
const bytes = await response.arrayBuffer();
const digest = [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
if (digest !== FILES[path]) throw new Error(`${path} is of another edition`);
return new Response(bytes, { headers: { "content-type": response.headers.get("content-type") ?? "application/octet-stream" } });
}
async function keepAll() {
const known = await caches.has(PREFIX + EDITION);
const cache = await caches.open(PREFIX + EDITION);
try {
for (const path of Object.keys(FILES)) await cache.put(path, await fetched(path));
} catch (problem) {
if (!known) await caches.delete(PREFIX + EDITION);
throw problem;
}
}
async function dropOthers() {
const names = await caches.keys();
await Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== PREFIX + EDITION).map((name) => caches.delete(name)));
}
async function answer(request) {
const address = new URL(request.url);
address.search = "";
address.hash = "";
if (address.pathname.endsWith("/")) address.pathname += "index.html";
const cache = await caches.open(PREFIX + EDITION);
return (await cache.match(address.href)) ?? fetch(request);
}
self.addEventListener("install", (event) => event.waitUntil(keepAll()));
self.addEventListener("activate", (event) => event.waitUntil(dropOthers().then(() => self.clients.claim())));
self.addEventListener("fetch", (event) => {
const within = event.request.method === "GET" && event.request.url.startsWith(new URL("./", self.location.href).href);
if (within) event.respondWith(answer(event.request));
});
self.addEventListener("message", (event) => {
if (event.data === "show") self.skipWaiting();
});
