"use strict";
(function(){
const modules=(globalThis.stepwardModules??={});
modules["parts/search/slips.js"]=(function(){
function distance(left,right,most){
if(Math.abs(left.length-right.length)>most)return most+1;
let before=([]);
let above=Array.from({length:right.length+1},(_,at)=>at);
for(let row=1;row<=left.length;row++){
const here=[row];
let least=row;
for(let at=1;at<=right.length;at++){
const same=left[row-1]===right[at-1];
here[at]=Math.min(above[at]+1,here[at-1]+1,above[at-1]+(same?0:1));
if(row>1&&at>1&&left[row-1]===right[at-2]&&left[row-2]===right[at-1])here[at]=Math.min(here[at],before[at-2]+1);
if(here[at]<least)least=here[at];
}
if(least>most)return most+1;
[before,above]=[above,here];
}
return above[right.length];
}
function related(one,other){
let alike=0;
while(alike<one.length&&one[alike]===other[alike])alike++;
return alike>=4&&alike>=0.6*Math.max(one.length,other.length)&&Math.max(one.length,other.length)-alike<=4;
}
const SLIP=0.8;
const TWO_SLIPS=0.6;
function guess({forms,bySpelling},word,typing){
const begun=typing&&word.length>=2?forms.filter((form)=>form.startsWith(word)):[];
if(begun.length>0)return[begun,0.9];
if(/\d/.test(word)||word.length<4)return[[],0];
const most=word.length>=6?2:1;
const far=forms.map((form)=>(form.length>2?distance(word,form,most):most+1));
const near=(slips)=>forms.filter((_,at)=>far[at]===slips);
const slips=near(1);
if(slips.length>0)return[slips,SLIP];
const family=forms.filter((form)=>related(word,form));
if(family.length>0)return[family,0.7];
for(let cut=3;cut<=word.length-3;cut++){
const parts=[word.slice(0,cut),word.slice(cut)];
if(parts.every((part)=>bySpelling.has(part)))return[parts.filter((part)=>(bySpelling.get(part)??-1)>=0),0.7];
}
return most===2?[near(2),TWO_SLIPS]:[[],0];
}
return{distance,SLIP,TWO_SLIPS,guess};
})();
modules["parts/search/find.js"]=(function(){
const{guess,SLIP,TWO_SLIPS}=modules["parts/search/slips.js"];
const wordsOf=(text)=>text.normalize("NFKC").toLowerCase().match(/[\p{Alphabetic}\p{N}]+/gu)??[];
function prepare(index){
const forms=index.forms.split(" ");
const bySpelling=new Map(forms.map((form,at)=>[form,index.slots[at]]));
const rarity=index.posts.map((post)=>Math.log(1+(index.documents.length-post.length/2+0.5)/(post.length/2+0.5)));
const slotsOf=(text)=>[...new Set(wordsOf(text).map((word)=>bySpelling.get(word)??-1))].filter((slot)=>slot>=0);
const known=[];
const said=(document)=>{
const[,,title,,symptoms]=index.documents[document];
return(known[document]??=[...symptoms,title].map((text)=>({text,slots:slotsOf(text)})));
};
return{index,forms:forms.filter((form)=>(bySpelling.get(form)??-1)>=0),bySpelling,rarity,said};
}
function meant(at,text){
const words=wordsOf(text);
const open=/[\p{Alphabetic}\p{N}]$/u.test(text);
return words.flatMap((word,place)=>{
const slot=at.bySpelling.get(word);
if(slot!==undefined&&slot<0)return[];
const joined=at.bySpelling.get(word+(words[place+1]??""))??-1;
const slots=new Map(joined>=0&&slot===undefined?[[joined,0.9]]:[]);
if(slot!==undefined)return[{slots:slots.set(slot,1),taken:[]}];
const[guessed,sure]=guess(at,word,open&&place===words.length-1);
for(const form of guessed)slots.set(at.bySpelling.get(form)??-1,sure);
return slots.size>0?[{slots,taken:sure===SLIP||sure===TWO_SLIPS?guessed.slice(0,3):[]}]:[];
});
}
function coded(index,text){
const words=wordsOf(text);
const sure=(code)=>!/^\d{1,2}$/.test(code)||words.length===1;
const codes=new Map();
const spent=new Set();
for(const[code,written,document]of index.codes.filter(([code])=>sure(code))){
for(let at=0;at<words.length;at++){
const length=[1,2,3].find((length)=>words.slice(at,at+length).join("")===code);
if(length===undefined)continue;
codes.set(document,written);
for(let part=at;part<at+length;part++)spent.add(part);
}
}
return{codes,rest:spent.size===0?text:words.filter((_,at)=>!spent.has(at)).join(" ")};
}
function likeness({rarity},typed,slots){
const weigh=(sum,slot)=>sum+rarity[slot];
const asked=typed.reduce((sum,{slots:all})=>sum+Math.max(...[...all.keys()].map((slot)=>rarity[slot])),0);
const shared=typed.reduce((sum,{slots:all})=>sum+Math.max(0,...slots.map((slot)=>(all.get(slot)??0)*rarity[slot])),0);
return shared===0?0:(2*shared)/(asked+slots.reduce(weigh,0));
}
const LIKELY=200;
const RANK=({fault:1,stop:1,task:0.6,page:0.4});
function find(at,text,most=8){
const{codes,rest}=coded(at.index,text);
const typed=meant(at,rest);
const sums=new Map([...codes.keys()].map((document)=>[document,0]));
let best=0;
for(const{slots}of typed){
const said=new Map();
for(const[slot,sure]of slots){
const post=at.index.posts[slot];
for(let each=0;each<post.length;each+=2)said.set(post[each],Math.max(said.get(post[each])??0,post[each+1]*sure));
}
best+=Math.max(0,...said.values());
for(const[document,says]of said)sums.set(document,(sums.get(document)??0)+says);
}
const likely=[...sums].sort(([one,sum],[other,more])=>Number(codes.has(other))-Number(codes.has(one))||more-sum||one-other).slice(0,LIKELY);
const hits=likely.map(([document,sum])=>{
const[kind,href,title,about,symptoms]=at.index.documents[document];
const alike=at.said(document).map(({text:symptom,slots})=>({symptom,likeness:likeness(at,typed,slots)})).sort((one,other)=>other.likeness-one.likeness)[0];
const score=(codes.has(document)?10:0)+RANK[kind]*((best?sum/best:0)+alike.likeness);
return{kind,href,title,about,symptom:alike.likeness>0&&symptoms.includes(alike.symptom)?alike.symptom:null,code:codes.get(document)??null,score};
});
hits.sort((one,other)=>other.score-one.score||(one.href<other.href?-1:1));
const near=hits.filter((hit)=>hit.score>=0.25*Math.min(hits[0].score,2));
return{hits:near.slice(0,most),taken:[...new Set(typed.flatMap((word)=>word.taken))]};
}
function trigrams(text){
const all=new Set();
for(const word of wordsOf(text)){
const padded=` ${word} `;
for(let place=0;place+3<=padded.length;place++)all.add(padded.slice(place,place+3));
}
return all;
}
function overlap(one,other){
let shared=0;
for(const part of one)if(other.has(part))shared++;
return one.size+other.size===0?0:(2*shared)/(one.size+other.size);
}
function nearest(at,text,most=3){
const typed=trigrams(text);
const hits=at.index.documents.flatMap(([kind,href,title,about,symptoms])=>{
if(kind!=="fault")return[];
const[best]=[...symptoms,title].map((symptom)=>({symptom,score:overlap(typed,trigrams(symptom))})).sort((one,other)=>other.score-one.score);
return best.score>0?[{kind,href,title,about,symptom:symptoms.includes(best.symptom)?best.symptom:null,code:null,score:best.score}]:[];
});
return hits.sort((one,other)=>other.score-one.score||(one.href<other.href?-1:1)).slice(0,most);
}
return{wordsOf,prepare,find,nearest};
})();
modules["parts/search/note.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
function newNote(typed,say){
const area=(make("textarea",{class:"search__text",id:"search-note",rows:6,"aria-describedby":"search-note-help",input:()=>{own=true;}}));
const done=make("span",{role:"status",class:"search__copied"});
const button=make("button",{type:"button",class:"search__copy",click:copy},say("note-copy"));
const note=make("details",{class:"search__note"},
make("summary",{class:"search__open"},say("note")),
make("p",{class:"search__help",id:"search-note-help"},say("note-help")),
make("label",{class:"search__help",for:"search-note"},say("note-text")),
area,button,done);
let own=false;
function copy(){
area.select();
done.textContent="";
const told=(key)=>()=>{done.textContent=say(key);};
if(navigator.clipboard)navigator.clipboard.writeText(area.value).then(told("note-copied"),told("note-selected"));
else told("note-selected")();
}
return{
note,
follow(){
done.textContent="";
if(!own)area.value=say("note-filled",{words:typed(),page:document.title});
},
};
}
return{newNote};
})();
modules["parts/search/search.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{find,nearest,prepare}=modules["parts/search/find.js"];
const{newNote}=modules["parts/search/note.js"];
function startSearch(form){
const field=(form.querySelector("input"));
const status=(form.querySelector("[role=status]"));
const list=make("ul",{class:"search__found",hidden:true});
form.append(list);
const root=document.body.dataset.root??"";
document.addEventListener("stepward:index",(event)=>{
const{detail}=(event);
const at=prepare(detail);
const say=(key,values={})=>
String(detail.words[key]??key).replace(/\{(\w+)\}/g,(_,name)=>String(values[name]??""));
const{note,follow}=newNote(()=>field.value.trim(),say);
list.after(note);
const show=()=>{
const typed=field.value.trim();
const{hits,taken}=typed===""?{hits:[],taken:[]}:find(at,typed);
const shown=hits.length>0||typed===""?hits:nearest(at,typed);
list.replaceChildren(...shown.map((hit)=>row(hit,root,say)));
list.hidden=shown.length===0;
status.replaceChildren(...told(typed,hits.length,shown.length,taken,root,say));
note.hidden=typed==="";
follow();
};
field.addEventListener("input",show);
show();
},{once:true});
form.addEventListener("submit",()=>list.querySelector("a")?.focus());
form.addEventListener("keydown",(event)=>{
if((event.target).closest(".search__note"))return;
if(event.key==="ArrowDown"||event.key==="ArrowUp")walk(event,field,[...list.querySelectorAll("a")]);
else if(event.key==="Escape"&&field.value!==""){
event.preventDefault();
field.value="";
field.dispatchEvent(new Event("input"));
field.focus();
}
});
document.head.append(make("script",{src:form.dataset.index,error:()=>status.replaceChildren(form.dataset.failed??"")}));
}
function walk(event,field,links){
const stops=[field,...links];
const next=stops[stops.indexOf((document.activeElement))+(event.key==="ArrowDown"?1:-1)];
if(!next)return;
event.preventDefault();
next.focus();
}
function row(hit,root,say){
const first=hit.symptom===null?hit.title:hit.symptom[0].toUpperCase()+hit.symptom.slice(1);
const about=hit.code!==null?say("code",{code:hit.code}):hit.kind==="fault"?hit.about:say(hit.kind);
return make("li",{},make("a",{href:root+hit.href},hit.code===null?first:hit.title),make("p",{},hit.symptom===null||hit.code!==null?about:hit.title));
}
function told(typed,count,near,taken,root,say){
if(typed==="")return[];
if(count===0)return[`${say("none")} ${near>0?say("nearest"):""} `,make("a",{href:`${root}index.html#symptoms`},say("all"))];
return[`${count===1?say("found-one"):say("found",{n:count})}. ${taken.length>0?say("taken",{words:taken.join(", ")}):""}`];
}
if(typeof document!=="undefined")for(const form of document.querySelectorAll("[data-search]"))startSearch((form));
return{};
})();
})();
