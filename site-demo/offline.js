const EDITION = "8adea06f7fac18c8";
const PREFIX = `stepward ${new URL("./", self.location.href).pathname} `;
const FILES = {
  "assets/hand-over-80aaf5882fea.js": "17614a8a41fc05d299126260391d98872df83e3ffa7afd1e4ad1fe239955373d",
  "assets/plain-35c96793d405.js": "2606b698c1d356cd69ff3b68aa9aff091205b1ea997ca441f94f0f23e16f079f",
  "assets/procedure-db6412a871b7.js": "f76dba8fdd9952b6edc987121be0d2cd647be30e155663891ecb0013b0392067",
  "assets/style-b40b601797f3.css": "0a9d9c4413d1fd6111003cf87247aa925ad0c40cf11b80310533f840b8914dec",
  "icon.svg": "7bf70d9e76317565d0b9ec4ff479ff0d8dd0e737f496e709cc8ba0e2672f4b11",
  "index.html": "e8d81fcadc20de60988561308901c07a77366e21921730079b841ace0303a192",
  "leaflets/about.html": "d68ef8343b220ac89a63a2fecd5379aa7f1e8a33f660739680269d9e6a1df337",
  "leaflets/glossary.html": "b7cc74488b5dbc45dc79369ffe3cfa442eaf7c42b29d076d3c20ca05ccf3e89f",
  "procedures/change-cartridge.certificate.json": "272a00aaea8f33fae32759b1fe38699a9251931f93bfacb76fafc3a5907e4c66",
  "procedures/change-cartridge.html": "41f5923710099a2179c9628cba594cfcbe9eacce92b070b58e1da526fcf71abd",
  "procedures/dirt-on-the-back.certificate.json": "b602f501339133113f8ed1e828c686bd29550ac1cad076a72f3edf80694239f9",
  "procedures/dirt-on-the-back.html": "026d3a95f948900a6f81570e5753ddc9f2e9a37682ea2d26f5bb5174f333f635",
  "procedures/grey-background.certificate.json": "c62ae302e6a247470ff852ce0321ea47dca13bdc8f1b60ccb8b05f3a12002bff",
  "procedures/grey-background.html": "4b06a839f6ff4c793233a1ca2d1fafcf78ddc1b305b98f803fcfb55edae47578",
  "procedures/isolate.certificate.json": "dbf6664d3adec0e04201b6c2648ef426b7449bd4c7948bc73c23a80060c133e8",
  "procedures/isolate.html": "3b1125a9f8c21fb18a5b39ddea50fc6cbab5d96206568f9934b682f5c06aaac1",
  "procedures/line-along-the-feed.certificate.json": "23b4a022fde535e2c2933809c994bf0c2e80799a15dcab40a9296f8937a894c7",
  "procedures/line-along-the-feed.html": "de1081187abd866bd780f6c9f9c3b3751df1c277d5baa651b7c43ffc80aa75cd",
  "procedures/repeating-marks.certificate.json": "84d9df2eadd61e988d6863c8c61fe63c4f734cf72463d87d04b7d526f53065c4",
  "procedures/repeating-marks.html": "e3ef393398ed2f3e91243815150b8707443c4045f52f3549d03cabfccd6bfcaa",
  "procedures/restore-power.certificate.json": "e6172a761d0aa26d5f3e88f43cdf33beeb152a39380d31fc6ebe45095b261ba7",
  "procedures/restore-power.html": "447f73813c503877cdef80270ba57f8bcf7d6819a35ba8fde9106a748487994a",
  "procedures/toner-rubs-off.certificate.json": "d1dc1251f4c04a5a1206d8b4cfca7c011eabf979aeb9a675526b3732ca34a96e",
  "procedures/toner-rubs-off.html": "a74210ff88524e7569155634416bd6905f1265fa34cb449ed024454c9b397112",
  "procedures/white-sheet.certificate.json": "813df2dfc7f4b6e68a8cc2bada17c793879106fafb0a65979a31afb79617a14c",
  "procedures/white-sheet.html": "edef17bf18ebaaabc815f7467ee5a794c9b140717f33e48ffe0ab8d7e2c0261e",
  "procedures/wipe-the-fuser.html": "223290d0b730df4dd82d85fadf64aee41072917da6b8d0fd7482ff71b21241b3",
  "procedures/wrong-content.certificate.json": "8c0b660487662520f0c90bbec49b96a8ff0e2e17f0c822043503a1ea3a6e3f2e",
  "procedures/wrong-content.html": "5a3cf9fc4ac13ff75beeb0f185e14b8c4c6cd042efd837465c65df3177173767",
  "review/change-cartridge.html": "05633ca3ece0c6168132e04b9f7fca2e444cc47c739dd5fedf3f172e489c722e",
  "review/dirt-on-the-back.html": "d90e5fe099c5c4da0056eeb4cb6977374543d394c5c6aadcc2f62b4a438eb410",
  "review/grey-background.html": "7a753c46fc625a27e0d9bf9438743f5f1d6f73c0630ea68a960b292995b45564",
  "review/index.html": "4f38e6e8f395c7ee25079ea9ff7122a6ba7fc18abf651e07372c2dee5405b68f",
  "review/isolate.html": "cb016835fd1fbdbe8dff8b8ed2fb96c837e92c8cf32ef3d03774048120ba8ba6",
  "review/line-along-the-feed.html": "aeedc631f62c296310d0e9dd6f6ff4b75fc4f8c600003c3150b69e195beb8074",
  "review/repeating-marks.html": "47d79279d58a3184e011dbc0ade9fdf79f564bc1b6cadff3c52d1efa46c91cbb",
  "review/restore-power.html": "7f90248f768829547728e33816d2f14e9e3d7c9cc5cb6123dcc91c3522775169",
  "review/toner-rubs-off.html": "06abd85dc1bfb65c1454f0d414e277f7812e25f7345921ced7ee43f60c50de09",
  "review/white-sheet.html": "f7aae008500686bb22630e7ac8288e3d09d7c49fa8d8ffb4cc58e4bd9599af78",
  "review/wrong-content.html": "c74c1355966c206939775aebdf873d709398384b0a96a02fb6a681ecfaad3f0f",
  "rules/acts-many.html": "0ca5bd68d6014b822af5f814148f16ebd9a85f148e12fbc66ee6049709b1c6fa",
  "rules/approval-by-owner.html": "03a6095206a8153bd9c94387ba2d55583340533e09728a370a8136f5199e1bc5",
  "rules/approval-missing.html": "6fce3d17ab00fd17ddf76c9cf54d403e89a179c8f077c68163df8a1216049b30",
  "rules/approval-stale.html": "1397e802c486728b9802da063ce57bea1ee5d5eac7c503f042ba1e46cb8d54e3",
  "rules/bad-id.html": "f57b40da7b995009b9a759049b8ecb50588f3d8223c97480fd809d04b80e2327",
  "rules/bands-not-ascending.html": "a79eb0be2e6023f3c937028859bea1502d45bd3456a7010f38a969d416cbeb6f",
  "rules/beyond-competence.html": "7d8ac2a3a3a751d729dc104d5e8d69d537f5f040705ee1a85dd6adc7eb6e549f",
  "rules/branch-without-action.html": "dea3bbdf65ad9d5f1f1e48bea21d2430beca577d6e76f8a40b00d6cac4ae146d",
  "rules/caution-idle.html": "0fbff4eb3e83c2d12d2618c1a1c061e87a17da3b67882b3c041434a23c3ae42a",
  "rules/caution-incomplete.html": "c88871515d4f05196b67a4d4338f6bd1982a650427a4b265d250ee38df281237",
  "rules/caution-missing.html": "25d2bbfc3612638e949eb04776900b8a9fefe8b4c7b0b711215f4a3b6b1beb12",
  "rules/caution-out-of-date.html": "10ffc163a6e4f3ace2c54d0ccc22f2a59c3db56613e461f741fe502e74010f31",
  "rules/cautions-many.html": "71f018664b4d495156ea42d932927cf8795ecb48245a93ffe4a714d90b56f98e",
  "rules/code-nowhere.html": "d9f0d8b1d8beed083f6bb7b6a1b25c611619a7a0ba5c782bac96d8af01b20bca",
  "rules/code-shared.html": "bc444a3ce7dffed272b928d91b1969701c9762e3312de5a102b167de167e7d02",
  "rules/condition-not-met.html": "35d622f9963ff09d98abd7e2b42d3bdf1e189ccfd518b3530fa80fdd7dae1725",
  "rules/condition-undeclared.html": "82d3faf2e5aee21007edaa3556fb8ef7801642592a0ab399c07ae436d615433f",
  "rules/denial-idle.html": "a2cb1a38d50aa3aff0d675bf45e7a58692b16696f79685ea8313f88de996ffb0",
  "rules/denial-refused.html": "bf183679e11703332b2e2ca3de5d26617d6458f02c0edacef338eff1a2eaaa87",
  "rules/duplicate-answer.html": "6a6cbc1c1b522128c2dfba011576034d450e70ef4b095f5d58cba0092e4ecd72",
  "rules/duplicate-key.html": "706ad1a0924b7cacf55ce4f209a8e360a6291050fa50faf0b9fce3f53f723d27",
  "rules/duplicate-procedure.html": "a124ffa7c598e8e774f2120cb2389707df9da23b2f1d0a786575820620509cf4",
  "rules/fixed-unchecked.html": "13087e6321180c42926838939e4740fb2d68f5d4f9630c88c9763469daf5f333",
  "rules/formula-invalid.html": "68dd672b97bd4410130954d8a0845c25e126ca21e19f6562e0dccdda2acf1c7f",
  "rules/front-matter-invalid.html": "bfc5403dab085aefb5089fe4598760368b539866b7e74731de2d529beabc98d3",
  "rules/front-matter-missing.html": "6ac580d82af9b8604d67e1cb0ae96485c2dd49eeaacee6fc5d5cb0c53d09b6b4",
  "rules/hazard-uncontrolled.html": "1a5d169f23181ccce0924555072243dce35b4597d202b1eafa1c4d181f9b0eed",
  "rules/hazard-undeclared.html": "3b97db2a2cf1e8cbed626ae219c0cb35607eaf451568c51e5494f5c793af3d61",
  "rules/hazard-without-words.html": "e862f216dbc3f04e5297bcead7fb77d3442e5b478e410a13738f4b01f5ec8c3f",
  "rules/heading-order.html": "50d45e3f0a45da59f1ddd86c8e529c9b4e11c4ba252d6301f80bfdadc5353c01",
  "rules/index.html": "eae844ff02d350d653e5b8624d34ff4cb488a7ce16212f17fe248fa87a10bde7",
  "rules/instruction-long.html": "d452e75dbf4928319b51cfc90eaa0c0f1e35fc4c6a2010879cfb4ccc8b21dd33",
  "rules/instruction-vague.html": "a55d34365ee83be81da632cc586cdcf0aaeec5aa940e83e700258b0868ebde0d",
  "rules/key-missing.html": "032cf6ad22b7015a6db31df6776e8b250ff6d55430e8904496acd38251d30ce8",
  "rules/leads-to-unreleased.html": "976fbc1e1c4f77f541aac24b556dbeebdaad952c40ba7aed9b0264b4246ea57f",
  "rules/leads-to-withdrawn.html": "26fcb4c110d4708c8a4ad2d89f4137e14d5209bf40e0a7d66075acd9cf228129",
  "rules/left-behind.html": "db185feda228216679bdb66b50cc610bd4ba8cec260d593953d93084d14d0a29",
  "rules/limit-idle.html": "865ce430fc4eb0939fd779306d57730540a714bd096a10abcaca3f83a6e72417",
  "rules/link-broken.html": "c39e63800e11313fca67d0ddaa8a0c3ee0272965c68fa2e1d958df5ac10b6d4c",
  "rules/link-leaves-flow.html": "8e91f2b98a9a944d8ec8e4b88b4b7913b22e883b048f7215a6d665fcc7f98355",
  "rules/loop-unbounded.html": "4301387c5f32ad2a7adf94564064ad158e74bbf9903d1db157bcd60fb3c2ae1e",
  "rules/model-uncovered.html": "7739531abbba4edcce494e808466b84d595fd6eb12a6723abea489e83f872530",
  "rules/no-way-out.html": "a6c4693191fcb09abb6a41f890d1eb84c7a2499ff39aa450ad6bc1eae1dedff6",
  "rules/not-tried-out.html": "9bc598710ec4b3730431445cbfb67a66adf55b0d620cf9fba96a987ee8a99173",
  "rules/not-utf8.html": "185aa92622f030bac79d4c62323059354c4c5b644530ac85e182139a64c9a923",
  "rules/otherwise-missing.html": "13e1c7bd4ca268ff691ff052e1624b0df2483b92ba83a1758a9c309b7ec7d8f7",
  "rules/outcome-impossible.html": "c4f56a48affdc648593d6dbbe557a6eb5819bc07c741971d9703a632b70cdd88",
  "rules/outcome-unmapped.html": "c12cbae9a83d4716db001f5674bcb6920d8bb0253f8793b7366055e1ac7e0f00",
  "rules/outside-library.html": "d785652d3cb67e171819d23f84d6966c343b9523458bf45c403c8788c593fe00",
  "rules/part-without-words.html": "a44f401d52e412e7740d38ec1fc76b1fe74ad207cc9ab97d605d15ee8e0d1ee5",
  "rules/person-unasked.html": "3f765c331d068c623cd91773f4fe8f622e8f167ff4ea9207a51532b4b1d2bd36",
  "rules/picture-missing.html": "f8aa943c2654558ea69a0d74d36f4cee9c8ac1267ab204cf6ff504728fe66233",
  "rules/picture-without-words.html": "e797e81bf8729907531da72c0bad4763c8dcbc5a18ad6faf922668b48c6a0763",
  "rules/procedure-circle.html": "ad4eb0ba19132058c182166f24aeb978672f28162511fde472210b1bf5182137",
  "rules/raw-html.html": "86c6bfa2c31b8d12940ce181d68531e2c425a00452ed08ccd8e53d9307e1e9b8",
  "rules/reach-undeclared.html": "568829be8bd27ea328c79db36e43b3b7ac3b1680b8836573e017fdd61b7c2522",
  "rules/refers-in-a-circle.html": "623c4e6cecb34b61823392f9a0580867b3ccb5d1af9ab16496ed05504bfada9e",
  "rules/refers-nowhere.html": "b5a140166a9b128632ff697ce7d6777fdfd3e87567581e1612434651dfa2e816",
  "rules/review-overdue.html": "47f885b6e57a1cc8f7ba2735d05f5badd6c3a66f28f41e49df5825b2610723e7",
  "rules/step-kind-unclear.html": "8525aa55942ffafd2dc51f7b2eae3ff08c1d72a8ad0584959cbf70e77d543b68",
  "rules/step-unreachable.html": "bee7f51f7dce9693a102ff5f0a2ac2aeef5167b80d903e896660280f002f6cbe",
  "rules/step-without-words.html": "992a6abfa9657ccdf1e7c7edd74d2044735114cb9e2b453c091b628d48dce0c1",
  "rules/stop-card-missing.html": "39d2f680a887edeaba976d4f8b3185620c5f2b885511b101a89a3bec1fa4765e",
  "rules/text-cut-short.html": "db6189dd204b32ade98fe82d3f4437a8fa0f36bc73c44f1d7b7705e8ff2e491f",
  "rules/too-deep.html": "980803cca1f52b3e432c3c8e7debb390f3c35e12a85cbcee0703243220064f3b",
  "rules/too-few-answers.html": "b30f7352b0ea9e33ff38ff9591d529747135d6eacf8b8c940258368c69a09efe",
  "rules/too-many-answers.html": "e96c34553ed84ec300e1ad8a5b845bd2a03fe34975c8e53ec6ae6e5c35db4401",
  "rules/unit-mismatch.html": "76a1d00be01666e494023dd9f9f1dec738b83782841e72048a3b7dbe14f91ac9",
  "rules/unknown-condition.html": "43e95562b5fda81e02ebc2c8c65f21c932eb4b16749a2a49c8e94cc956d756f5",
  "rules/unknown-hazard.html": "94d50909a6e48bb6f38a9af379d31714dc42e37484c80bf9297071ead988923b",
  "rules/unknown-key.html": "3bb51f7e6b363eee4ade6641342c06d9bfc33d8bbbe39087370aec03173c4630",
  "rules/unknown-model.html": "4daa7c05e8a58d6468020d6ea6f414f663118a58827ab8356ea99a53db012121",
  "rules/unknown-outcome.html": "94060eca64975cddccb195c4456f4846759acc7b77f499ceffb9ab0d6e52f3df",
  "rules/unknown-part.html": "322f31020c23901348be185996b57f7ae909908e1399d2234136c41775e9c194",
  "rules/unknown-procedure.html": "3f6857d17f6d876e9bde7edae962f052ce06be7ba9e3df6aa8250a49c5733379",
  "rules/unknown-step.html": "92a9a50a57127e31fa34f2ffb097d8fa2d6924f3c2ecb2c0a36ddda3e7609472",
  "rules/unsure-as-clear.html": "be4dfc0a21b34627bc615b16317ebbeaa1acc434139f06b1b81976751a5e537b",
  "rules/unsure-missing.html": "18b21b0648099d51f32b252c77e3abb01439d76f29c9ca1bc8f454127d89f1d3",
  "rules/value-invalid.html": "fa9dfecf8fd975e64df3f83a931a9a80be19bd72762672bbe06e5010effef73c",
  "rules/wait-too-short.html": "8465e1b618e5c8bad2c11711eeec81d83e16faabfbfc1e172a4d2da867961105",
  "rules/waiver-expired.html": "32def15ff5d9134564e0a87006844c39209759d872cf3955f8b7b9c44e2a9986",
  "rules/waiver-incomplete.html": "0daccf54f14ba46e020096d0b425536a0435584302ee3056e7665ce00f44b3b5",
  "rules/words-without-step.html": "41c9e7f5f67b4d08dccb00b3f13717fba4b81853cd851fdf7a37f79fb9948552",
  "schemas/record.schema.json": "de0d72f56322eff3435f1bfc6919e2d4b2acfe2f0bc8290cc32e6ef7d7f261ca",
  "site.webmanifest": "3153a76a412f1388d7949f05a3af4c10f13425139a0445944d58fdad47b0ff7d",
  "stop.html": "dc2af7606b9119a90ecddebe620b8bdedea9aa2266fd093bdbc165a64d5102eb"
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
const cache = await caches.open(PREFIX + EDITION);
for (const path of Object.keys(FILES)) await cache.put(path, await fetched(path));
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
