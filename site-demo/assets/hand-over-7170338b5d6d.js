"use strict";
(function(){
const modules=(globalThis.stepwardModules??={});
modules["script/sha256.js"]=(function(){
const ROOTS=primes(64);
const K=ROOTS.map((prime)=>fraction(Math.cbrt(prime)));
const H=ROOTS.slice(0,8).map((prime)=>fraction(Math.sqrt(prime)));
function primes(count){
const found=[];
for(let candidate=2;found.length<count;candidate++){
if(found.every((prime)=>candidate%prime!==0))found.push(candidate);
}
return found;
}
function fraction(root){
return((root-Math.floor(root))*2**32)>>>0;
}
function turned(word,by){
return(word>>>by)|(word<<(32-by));
}
function sha256(bytes){
const padded=new Uint8Array(((bytes.length+72)>>6)<<6);
padded.set(bytes);
padded[bytes.length]=0x80;
const view=new DataView(padded.buffer);
view.setUint32(padded.length-8,Math.floor(bytes.length/2**29));
view.setUint32(padded.length-4,bytes.length<<3);
const state=Uint32Array.from(H);
const words=new Uint32Array(64);
for(let block=0;block<padded.length;block+=64){
for(let t=0;t<16;t++)words[t]=view.getUint32(block+t*4);
for(let t=16;t<64;t++)words[t]=small(words[t-2],17,19,10)+words[t-7]+small(words[t-15],7,18,3)+words[t-16];
rounds(state,words);
}
const digest=new DataView(new ArrayBuffer(32));
state.forEach((word,place)=>digest.setUint32(place*4,word));
return new Uint8Array(digest.buffer);
}
function small(word,one,two,shift){
return turned(word,one)^turned(word,two)^(word>>>shift);
}
function rounds(state,words){
let[a,b,c,d,e,f,g,h]=state;
for(let t=0;t<64;t++){
const one=h+(turned(e,6)^turned(e,11)^turned(e,25))+((e&f)^(~e&g))+K[t]+words[t];
const two=(turned(a,2)^turned(a,13)^turned(a,22))+((a&b)^(a&c)^(b&c));
[a,b,c,d,e,f,g,h]=[(one+two)|0,a,b,c,(d+one)|0,e,f,g];
}
[a,b,c,d,e,f,g,h].forEach((word,place)=>(state[place]+=word));
}
function digestOf(text){
return[...sha256(new TextEncoder().encode(text))].map((byte)=>byte.toString(16).padStart(2,"0")).join("");
}
return{sha256,digestOf};
})();
modules["script/packet.js"]=(function(){
const{advance,begin,RAISED}=modules["script/flow-state.js"];
const{cautionShown}=modules["script/facts.js"];
const{sha256}=modules["script/sha256.js"];
const VERSION=1;
const CHECK=6;
const STILL_HERE_MS=10*60*1000;
const CODES=["start","acknowledge","answer","reading","next","begin-wait","back","confirm","note","machine","waited"];
const PERSONS=["ordinary","instructed","skilled"];
function deedsOf(flow,state){
const deeds=[];
let waitedFor=null;
for(const entry of state.log){
const deed=deedOf(flow,entry);
if(entry.first!==undefined)deeds.push({type:"reading",typed:entry.first,at:entry.at});
const follows=waitedFor!==null&&entry.step===waitedFor&&deed?.type==="next";
if(deed!==null&&!follows)deeds.push({...deed,at:entry.at});
waitedFor=entry.what==="wait-over"?entry.step:null;
}
if(state.wait!==null)deeds.push({type:"waited",seconds:Math.floor(state.wait.counted/1000),at:state.last.wall});
return deeds;
}
function deedOf(flow,entry){
switch(entry.what){
case"start":return{type:"start",model:entry.model,person:entry.person,alone:true,caller:entry.caller,ticket:entry.ticket,serial:entry.serial,counter:entry.counter};
case"caution":return{type:"acknowledge",hazard:entry.hazard};
case"wait-begun":return{type:"begin-wait"};
case"wait-over":return{type:"next"};
case"back":return{type:"back"};
case"note":return{type:"note",text:entry.text};
case"machine":return{type:"machine",serial:entry.serial};
case"resume":return{type:"confirm",person:entry.person,alone:entry.alone,caller:entry.caller,confirmed:entry.confirmed,raised:entry.raised};
case"hand-over":return entry.typed===undefined?null:{type:"reading",typed:entry.typed};
case"ending":return entry.depth>0?{type:"next"}:null;
case"way":{
const{kind}=flow.procedures[entry.procedure].steps[entry.step].ways[entry.way];
if(kind==="next")return{type:"next"};
if(kind==="band"||kind==="part")return{type:"reading",typed:entry.typed};
return kind==="answer"||kind==="unsure"?{type:"answer",way:entry.way}:null;
}
default:return null;
}
}
function replayed(flow,deeds){
let wall=deeds[0]?.at??0;
const clock=()=>({wall,running:wall});
let state=begin(flow,clock());
const send=(event,at)=>{
wall=Math.max(wall,at);
state=advance(flow,state,event,clock());
};
for(const deed of deeds){
if(deed.type==="confirm"){
if(state.screen.name!=="resume")send({type:"take-over"},wall+1000);
const conditions=Object.fromEntries(state.facts.holds.map((id)=>[id,deed.confirmed.includes(id)]));
send({...deed,raised:deed.raised??"another",conditions},Math.max(deed.at,wall+1000));
continue;
}
if(deed.type==="waited"){
while(wall<deed.at)send({type:"here"},Math.min(deed.at,wall+STILL_HERE_MS));
if(state.wait!==null)state={...state,wait:{...state.wait,counted:Math.min(state.wait.counted,deed.seconds*1000)}};
continue;
}
if(deed.type==="acknowledge"&&state.screen.hazard!==deed.hazard&&state.step!==null){
state=givenAnyhow(state,deed);
continue;
}
while(AT_STEPS.includes(deed.type)&&state.screen.name==="caution"){
const{log}=state;
send({type:"acknowledge",hazard:state.screen.hazard},wall+1000);
state={...state,log};
}
while(deed.type==="next"&&state.wait!==null&&state.wait.counted<state.wait.needed)send({type:"here"},wall+Math.min(STILL_HERE_MS,state.wait.needed-state.wait.counted));
const at=Math.max(deed.at,wall+1000);
while(at-wall>STILL_HERE_MS)send({type:"here"},wall+STILL_HERE_MS);
send(deed,at);
}
return state;
}
const AT_STEPS=["answer","reading","next","begin-wait"];
function givenAnyhow(state,deed){
const entry={what:"caution",hazard:deed.hazard,step:state.step,caller:state.caller,at:deed.at};
return{...state,facts:cautionShown(state.facts,deed.hazard),log:[...state.log,entry]};
}
function packed(flow,state){
const out=new Writer();
out.byte(VERSION);
out.text(flow.procedure);
out.number(flow.procedures[flow.procedure].revision??0);
for(const pair of flow.edition.match(/../g)??[])out.byte(parseInt(pair,16));
let last=0;
for(const deed of deedsOf(flow,state)){
const at=Math.max(last,Math.floor(deed.at/1000));
out.byte(CODES.indexOf(deed.type));
out.number(at-last);
last=at;
put(out,flow,deed);
}
const bytes=Uint8Array.from(out.bytes);
return base64url([...bytes,...sha256(bytes).slice(0,CHECK)]);
}
function put(out,flow,deed){
switch(deed.type){
case"start":
out.number(1+modelIds(flow).indexOf(deed.model));
out.byte(PERSONS.indexOf(deed.person)+(deed.caller?4:0));
for(const text of[deed.ticket,deed.serial,deed.counter])out.text(text??"");
break;
case"acknowledge":out.number(flow.hazards.findIndex((one)=>one.id===deed.hazard));break;
case"answer":out.number(deed.way);break;
case"reading":
out.number(Object.keys(deed.typed).length);
for(const[field,typed]of Object.entries(deed.typed)){
out.text(field==="value"?"":field);
out.text(String(typed));
}
break;
case"confirm":
out.byte(PERSONS.indexOf(deed.person)+(deed.caller?4:0)+(deed.alone?8:0)+16*(RAISED.indexOf(deed.raised)+1));
out.number(deed.confirmed.length);
for(const id of deed.confirmed)out.number(flow.conditions.findIndex((one)=>one.id===id));
break;
case"note":out.text(deed.text);break;
case"machine":out.text(deed.serial);break;
case"waited":out.number(deed.seconds);break;
}
}
function modelIds(flow){
return[...flow.models.map((model)=>model.id),"unknown"];
}
function unpacked(flow,text){
const bytes=fromBase64url(text);
const body=bytes?.slice(0,-CHECK);
if(!bytes||!body||bytes.length<=CHECK||!sha256(body).slice(0,CHECK).every((byte,place)=>byte===bytes[body.length+place]))return{reason:"cut"};
try{
const reader=new Reader(body);
if(reader.byte()!==VERSION)return{reason:"newer"};
const id=reader.text();
const revision=reader.number();
if(id!==flow.procedure)return{reason:"procedure",id};
const edition=flow.edition.replace(/../g,()=>reader.byte().toString(16).padStart(2,"0"));
if(edition!==flow.edition)return{reason:"edition",revision};
const run=replayed(flow,deedsIn(reader,flow));
return run.frames.length>0?{run}:{reason:"other"};
}catch{
return{reason:"other"};
}
}
function deedsIn(reader,flow){
const deeds=[];
let seconds=0;
while(!reader.done()){
const type=CODES[reader.byte()];
seconds+=reader.number();
deeds.push({type,at:seconds*1000,...take(reader,flow,type)});
}
return deeds;
}
function take(reader,flow,type){
switch(type){
case"start":{
const model=modelIds(flow)[reader.number()-1];
const who=reader.byte();
return{model,person:PERSONS[who&3],alone:true,caller:(who&4)>0,ticket:reader.text(),serial:reader.text(),counter:reader.text()};
}
case"acknowledge":return{hazard:flow.hazards[reader.number()].id};
case"answer":return{way:reader.number()};
case"reading":return{typed:Object.fromEntries(Array.from({length:reader.number()},()=>[reader.text()||"value",reader.text()]))};
case"confirm":{
const who=reader.byte();
const confirmed=Array.from({length:reader.number()},()=>flow.conditions[reader.number()].id);
return{person:PERSONS[who&3],caller:(who&4)>0,alone:(who&8)>0,raised:RAISED[(who>>4)-1],confirmed};
}
case"note":return{text:reader.text()};
case"machine":return{serial:reader.text()};
case"waited":return{seconds:reader.number()};
case"next":case"begin-wait":case"back":return{};
default:throw new Error("no such deed");
}
}
class Writer{
bytes=[];
byte(value){
this.bytes.push(value&255);
}
number(value){
let left=value;
for(;left>=128;left=Math.floor(left/128))this.byte((left%128)+128);
this.byte(left);
}
text(text){
const bytes=new TextEncoder().encode(text);
this.number(bytes.length);
bytes.forEach((byte)=>this.byte(byte));
}
}
class Reader{
constructor(bytes){
this.bytes=bytes;
this.at=0;
}
done(){
return this.at>=this.bytes.length;
}
byte(){
if(this.done())throw new Error("cut");
return this.bytes[this.at++];
}
number(){
let value=0;
for(let factor=1;;factor*=128){
const byte=this.byte();
value+=(byte%128)*factor;
if(byte<128)return value;
}
}
text(){
const length=this.number();
if(this.at+length>this.bytes.length)throw new Error("cut");
this.at+=length;
return new TextDecoder().decode(Uint8Array.from(this.bytes.slice(this.at-length,this.at)));
}
}
const LETTERS="ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
function base64url(bytes){
let text="";
for(let at=0;at<bytes.length;at+=3){
const three=(bytes[at]<<16)|((bytes[at+1]??0)<<8)|(bytes[at+2]??0);
const letters=[18,12,6,0].map((shift)=>LETTERS[(three>>shift)&63]).join("");
text+=letters.slice(0,Math.min(4,bytes.length-at+1));
}
return text;
}
function fromBase64url(text){
const values=[...text].map((letter)=>LETTERS.indexOf(letter));
if(values.includes(-1)||values.length%4===1)return null;
const bytes=[];
for(let at=0;at<values.length;at+=4){
const part=values.slice(at,at+4);
const four=part.reduce((sum,value,place)=>sum|(value<<(18-6*place)),0);
const three=[16,8,0].map((shift)=>(four>>shift)&255);
if(three.slice(part.length-1).some((rest)=>rest!==0))return null;
bytes.push(...three.slice(0,part.length-1));
}
return bytes;
}
return{deedsOf,replayed,packed,unpacked};
})();
modules["script/qr.js"]=(function(){
const CORRECTION=[7,10,15,20,26,18,20,24,30,18,20,24,26,30,22,24,28,30,28,28,28,28,30,30,26,28,30,30,30,30,30,30,30,30,30,30,30,30,30,30];
const BLOCKS=[1,1,1,1,1,2,2,2,2,4,4,4,4,4,6,6,6,6,7,8,8,9,9,10,12,12,12,13,14,15,16,17,18,19,19,20,21,22,24,25];
const MASKS=[
(r,c)=>(r+c)%2===0,(r)=>r%2===0,(_r,c)=>c%3===0,(r,c)=>(r+c)%3===0,(r,c)=>(Math.floor(r/2)+Math.floor(c/3))%2===0,
(r,c)=>((r*c)%2)+((r*c)%3)===0,(r,c)=>(((r*c)%2)+((r*c)%3))%2===0,(r,c)=>(((r+c)%2)+((r*c)%3))%2===0,
];
function alignment(version){
if(version===1)return[];
const count=Math.floor(version/7)+2;
const step=version===32?26:Math.ceil((version*4+4)/(count*2-2))*2;
return[6,...Array.from({length:count-1},(_,place)=>version*4+10-step*(count-2-place))];
}
function codewords(version){
const count=version===1?0:Math.floor(version/7)+2;
const patterns=count===0?0:(25*count-10)*count-55;
return Math.floor(((16*version+128)*version+64-patterns-(version>=7?36:0))/8);
}
function dataCodewords(version){
return codewords(version)-CORRECTION[version-1]*BLOCKS[version-1];
}
const POWER=new Uint8Array(255);
const LOG=new Uint8Array(256);
for(let exponent=0,value=1;exponent<255;exponent++,value=(value<<1)^(value&128?0x11d:0)){
POWER[exponent]=value;
LOG[value]=exponent;
}
function product(one,other){
return one===0||other===0?0:POWER[(LOG[one]+LOG[other])%255];
}
function correction(block,degree){
let generator=[1];
for(let root=0;root<degree;root++){
generator=[...generator,0].map((factor,place)=>factor^product(place>0?generator[place-1]:0,POWER[root]));
}
const rest=[...block,...new Array(degree).fill(0)];
block.forEach((_,place)=>{
const lead=rest[place];
generator.forEach((factor,offset)=>(rest[place+offset]^=product(factor,lead)));
});
return rest.slice(block.length);
}
function versionFor(length){
for(let version=1;version<=40;version++){
if(4+(version<10?8:16)+length*8<=dataCodewords(version)*8)return version;
}
return 0;
}
function message(bytes,version){
const bits=[];
const put=(value,length)=>{
for(let place=length-1;place>=0;place--)bits.push((value>>place)&1);
};
const room=dataCodewords(version);
put(0b0100,4);
put(bytes.length,version<10?8:16);
bytes.forEach((byte)=>put(byte,8));
put(0,Math.min(4,room*8-bits.length));
put(0,(8-(bits.length%8))%8);
for(let pad=0xec;bits.length<room*8;pad^=0xec^0x11)put(pad,8);
const data=Array.from({length:room},(_,place)=>bits.slice(place*8,place*8+8).reduce((sum,bit)=>sum*2+bit,0));
const count=BLOCKS[version-1];
const short=Math.floor(room/count);
const longer=room%count;
const blocks=Array.from({length:count},(_,place)=>{
const start=place*short+Math.max(0,place-(count-longer));
return data.slice(start,start+short+(place>=count-longer?1:0));
});
const checks=blocks.map((block)=>correction(block,CORRECTION[version-1]));
const across=(list)=>Array.from({length:Math.max(...list.map((one)=>one.length))},(_,place)=>list.flatMap((one)=>one.slice(place,place+1))).flat();
return[...across(blocks),...across(checks)];
}
function remainder(value,divisor,degree){
let rest=value<<degree;
for(let place=31-Math.clz32(rest);place>=degree;place=31-Math.clz32(rest)){
rest^=divisor<<(place-degree);
if(rest===0)break;
}
return rest;
}
function formatBits(mask){
const data=(0b01<<3)|mask;
return((data<<10)|remainder(data,0b10100110111,10))^0b101010000010010;
}
function versionBits(version){
return(version<<12)|remainder(version,0b1111100100101,12);
}
class Symbol_{
constructor(version){
this.version=version;
this.size=version*4+17;
this.dark=Array.from({length:this.size},()=>new Array(this.size).fill(false));
this.fixed=this.dark.map((row)=>[...row]);
}
fix(row,column,dark){
if(row<0||column<0||row>=this.size||column>=this.size)return;
this.dark[row][column]=dark;
this.fixed[row][column]=true;
}
patterns(){
const{size,version}=this;
for(let place=0;place<size;place++){
this.fix(6,place,place%2===0);
this.fix(place,6,place%2===0);
}
for(const[row,column]of[[3,3],[3,size-4],[size-4,3]]){
this.square(row,column,4,(distance)=>distance!==2&&distance!==4);
}
const places=alignment(version);
const last=places.length-1;
places.forEach((row,r)=>places.forEach((column,c)=>{
const corner=(r===0&&c===0)||(r===0&&c===last)||(r===last&&c===0);
if(!corner)this.square(row,column,2,(distance)=>distance!==1);
}));
this.format(0);
for(let place=0;version>=7&&place<18;place++){
const dark=((versionBits(version)>>place)&1)===1;
this.fix(Math.floor(place/3),size-11+(place%3),dark);
this.fix(size-11+(place%3),Math.floor(place/3),dark);
}
}
square(row,column,reach,dark){
for(let r=-reach;r<=reach;r++){
for(let c=-reach;c<=reach;c++)this.fix(row+r,column+c,dark(Math.max(Math.abs(r),Math.abs(c))));
}
}
format(mask){
const bit=(place)=>((formatBits(mask)>>place)&1)===1;
const{size}=this;
for(let place=0;place<6;place++){
this.fix(place,8,bit(place));
this.fix(8,5-place,bit(place+9));
}
this.fix(7,8,bit(6));
this.fix(8,8,bit(7));
this.fix(8,7,bit(8));
for(let place=0;place<8;place++)this.fix(8,size-1-place,bit(place));
for(let place=8;place<15;place++)this.fix(size-15+place,8,bit(place));
this.fix(size-8,8,true);
}
data(words){
const{size}=this;
let bit=0;
for(let right=size-1;right>0;right-=2){
if(right===6)right=5;
const upwards=((right+1)&2)===0;
for(let step=0;step<size;step++){
const row=upwards?size-1-step:step;
for(const column of[right,right-1]){
if(this.fixed[row][column])continue;
this.dark[row][column]=bit<words.length*8&&((words[bit>>3]>>(7-(bit&7)))&1)===1;
bit++;
}
}
}
}
masked(mask){
this.format(mask);
return this.dark.map((line,row)=>line.map((dark,column)=>dark!==(!this.fixed[row][column]&&MASKS[mask](row,column))));
}
}
function penalty(rows){
const size=rows.length;
const lines=[...rows,...rows.map((_,column)=>rows.map((row)=>row[column]))].map((line)=>line.map((dark)=>(dark?"1":"0")).join(""));
let points=0;
for(const line of lines){
for(const run of line.match(/1{5,}|0{5,}/g)??[])points+=run.length-2;
for(const finder of["10111010000","00001011101"]){
for(let at=line.indexOf(finder);at>=0;at=line.indexOf(finder,at+1))points+=40;
}
}
let dark=0;
for(let row=0;row<size;row++){
for(let column=0;column<size;column++){
dark+=Number(rows[row][column]);
const four=row+1<size&&column+1<size&&[rows[row][column+1],rows[row+1][column],rows[row+1][column+1]].every((one)=>one===rows[row][column]);
points+=four?3:0;
}
}
return points+Math.floor(Math.abs(dark*20-size*size*10)/(size*size))*10;
}
function qrCode(text){
const bytes=new TextEncoder().encode(text);
const version=versionFor(bytes.length);
if(version===0)return null;
const symbol=new Symbol_(version);
symbol.patterns();
symbol.data(message(bytes,version));
let best=symbol.masked(0);
let least=penalty(best);
for(let mask=1;mask<8;mask++){
const rows=symbol.masked(mask);
const points=penalty(rows);
if(points<least)[best,least]=[rows,points];
}
return best;
}
return{formatBits,versionBits,qrCode};
})();
modules["script/shares.js"]=(function(){
function sharesLeft(flow,state,counts=()=>true){
const known=flow.faults?.known??[];
if(known.length===0)return[];
const weights=new Map(known.map((fault)=>[fault.id,Number(fault.weight)]));
for(const likely of likelihoods(flow,state,counts)){
for(const[id,weight]of weights)weights.set(id,weight*likely(id));
}
const sum=[...weights.values()].reduce((one,other)=>one+other,0);
if(!(sum>0))return[];
const shares=known.map(({id,name})=>({id,name,share:(weights.get(id)??0)/sum}));
return shares.filter((one)=>one.share>0).sort((one,other)=>other.share-one.share);
}
function likelihoods(flow,state,counts){
const cured=new Set();
const found=new Map();
for(const entry of state.path){
if(entry.what!=="way"||entry.procedure!==flow.procedure||entry.depth>0)continue;
const step=flow.procedures[flow.procedure].steps[entry.step];
for(const fault of step.cures)cured.add(fault);
const gives=flow.faults.gives[entry.step]?.[entry.way]??null;
if(gives===null||!counts(entry))continue;
if(names(gives,"fixed")||names(gives,"not-fixed"))found.set(`${entry.step} ${found.size}`,checkOf(new Set(cured),names(gives,"fixed")));
else found.set(entry.step,(fault)=>chanceOf(flow.faults.gives[entry.step],entry.way,fault));
}
return[...found.values()];
}
function names(gives,id){
return gives!==null&&typeof gives==="object"&&Object.hasOwn(gives,id);
}
function checkOf(cured,fixed){
return(fault)=>(cured.has(fault)===fixed?1:0);
}
function chanceOf(gives,way,fault){
const named=gives.map((one)=>(names(one,fault)?Number(one[fault]):null));
if(named.every((one)=>one===null))return gives[way]==="rest"||!gives.includes("rest")?1:0;
return named[way]??0;
}
function bag(flow,left){
const things=(flow.faults?.bring??[]).map(({name,cures})=>{
const share=left.filter((one)=>cures.includes(one.id)).reduce((sum,one)=>sum+one.share,0);
return{name,share:cures.length===0||left.length===0?null:share};
});
const needed=things.filter((one)=>one.share===null||one.share>0);
return needed.sort((one,other)=>(other.share??2)-(one.share??2));
}
function ruledOutByWord(flow,state,left){
if(left.length===0)return[];
return sharesLeft(flow,state,(entry)=>!entry.told).filter((one)=>!left.some((other)=>other.id===one.id));
}
return{sharesLeft,bag,ruledOutByWord};
})();
modules["script/deviations.js"]=(function(){
function deviations(state){
return state.log.flatMap((entry,place)=>{
const n=place+1;
if(entry.what==="back")return[{what:"went-back",n,step:entry.to}];
if(entry.what==="wait-over"&&entry.doubt)return[{what:"clocks-disagreed",n,step:entry.step}];
if(entry.what==="hand-over")return[{what:"handed-over",n,step:entry.step,missing:entry.missing.map((one)=>one.id)}];
if(entry.what==="resume"&&entry.raised)return[{what:"person-raised",n,person:entry.person,why:entry.raised}];
if(entry.what==="way"&&entry.near)return[{what:"near-an-edge",n,step:entry.step}];
return[];
});
}
return{deviations};
})();
modules["script/service-record.js"]=(function(){
const{deviations}=modules["script/deviations.js"];
const{howChecked}=modules["script/run-state.js"];
const{digestOf}=modules["script/sha256.js"];
const RECORD_SCHEMA="stepward/record/1";
function canonical(value){
if(Array.isArray(value))return`[${value.map(canonical).join(",")}]`;
if(value===null||typeof value!=="object")return JSON.stringify(value);
const keys=Object.keys(value).filter((key)=>value[key]!==undefined).sort();
return`{${keys.map((key)=>`${JSON.stringify(key)}:${canonical(value[key])}`).join(",")}}`;
}
function timeText(wall){
return new Date(wall).toISOString().replace(/\.\d+Z$/,"Z");
}
function serviceRecord(flow,state){
const procedure=flow.procedures[flow.procedure];
const head={
schema:RECORD_SCHEMA,library:flow.library,procedure:flow.procedure,title:procedure.title,revision:procedure.revision,edition:flow.edition,
machine:{model:state.model,serial:state.about.serial,counter:state.about.counter},ticket:state.about.ticket,
};
let chain=digestOf(canonical(head));
const record={...head,chain,entries:([])};
for(const one of state.log){
const{at,...rest}=entryOf(flow,one);
const entry={n:record.entries.length+1,at:timeText(at),...rest};
chain=digestOf(chain+canonical(entry));
record.entries.push({...entry,chain});
}
const end=endOf(flow,state);
return{...record,...end,deviations:deviations(state),seal:digestOf(chain+canonical({...end,deviations:deviations(state)}))};
}
function endOf(flow,state){
const last=state.log.findLast((entry)=>entry.what==="ending"&&entry.depth===0);
const ended=state.screen.name==="ending"&&last!==undefined;
return{
status:ended?"ended":state.screen.name==="hand-over"?"handed-over":"under-way",
ending:ended?{step:last.step,outcome:last.outcome,checked:howChecked(flow,state)}:null,
left:{holds:[...state.facts.holds],"may-hold":state.facts.mayHold.filter((id)=>!state.facts.holds.includes(id)),"cure-unchecked":state.facts.uncheckedCure},
};
}
function entryOf(flow,entry){
const{what,at,...rest}=entry;
switch(what){
case"way":{
const step=flow.procedures[entry.procedure].steps[entry.step];
const way=step.ways[entry.way];
const reading=entry.typed===undefined?{}:{typed:entry.typed,value:entry.value??null,unit:step.measure.unit,spread:entry.spread,first:entry.first,"near-an-edge":entry.near};
const seen=["answer","band","part","unsure"].includes(way.kind)?{how:entry.told?"told":"seen"}:{};
return{at,what,procedure:entry.procedure,step:entry.step,way:way.kind,text:way.text,...seen,...reading};
}
case"caution":return{at,what,hazard:entry.hazard,step:entry.step,acknowledged:entry.caller?"repeated":"read"};
case"wait-over":return{at,what,step:entry.step,required:entry.needed,waited:entry.seconds,"clocks-agreed":!entry.doubt};
case"wait-begun":return{at,what,step:entry.step,required:entry.seconds};
case"start":return{at,what,model:entry.model,person:entry.person,caller:entry.caller};
case"back":return{at,what,to:entry.to,"stays-done":entry.deeds.map((deed)=>deed.step)};
case"carry-out":return{at,what,procedure:entry.procedure,step:entry.step,callee:entry.callee};
case"ending":return{at,what,procedure:entry.procedure,step:entry.step,outcome:entry.outcome};
default:return{at,what,...rest};
}
}
function brokenAt(record){
const{schema,library,procedure,title,revision,edition,machine,ticket,chain:first,entries,status,ending,left,deviations,seal}=record;
if(schema!==RECORD_SCHEMA||digestOf(canonical({schema,library,procedure,title,revision,edition,machine,ticket}))!==first)return"head";
let chain=first;
for(const[place,{chain:own,...entry}]of entries.entries()){
if(entry.n!==place+1||digestOf(chain+canonical(entry))!==own)return place+1;
chain=own;
}
return digestOf(chain+canonical({status,ending,left,deviations}))===seal?null:"end";
}
return{RECORD_SCHEMA,canonical,timeText,serviceRecord,brokenAt};
})();
modules["parts/follower/summary.js"]=(function(){
const{howChecked,possibleModels,stepOf}=modules["script/run-state.js"];
const{bag,ruledOutByWord,sharesLeft}=modules["script/shares.js"];
const{conditionName,hazardName,modelName,outcomeWords,pathWords,unsorted}=modules["parts/follower/record.js"];
const{say,sayOf}=modules["parts/follower/words.js"];
const MOST_LINES=20;
const WIDEST=100;
function summaryText(flow,state){
const head=headLines(flow,state);
const foot=footLines(flow,state);
const said=state.path.filter((entry)=>entry.what==="way"&&entry.way!==undefined&&isSaid(flow,entry)).map((entry)=>answerLine(flow,state,entry));
const room=MOST_LINES-head.length-foot.length;
const dropped=said.length-(room-1);
const shown=said.length<=room?said:[say("summary-earlier",{count:dropped}),...said.slice(dropped)];
return[...head,...shown,...foot].map((line)=>fitted(line,WIDEST)).join("\n")+"\n";
}
function isSaid(flow,entry){
return["answer","band","part","unsure"].includes(flow.procedures[entry.procedure].steps[entry.step].ways[entry.way].kind);
}
function headLines(flow,state){
const procedure=flow.procedures[flow.procedure];
const{ticket,serial,counter}=state.about;
const unknown=say("summary-unknown");
const model=possibleModels(flow,state)[0]===null?unknown:modelName(flow,state.model);
return[
`${say("record-title",{title:procedure.title,revision:procedure.revision??"-"})} (${procedure.id})`,
...(ticket===""?[]:[say("summary-ticket",{ticket})]),
say("summary-machine",{model,serial:serial||unknown,counter:counter||unknown}),
say("summary-person",{person:sayOf("person",state.facts.person)}),
...(state.caller?[say("summary-phone")]:[]),
];
}
function footLines(flow,state){
const names=(ids)=>ids.map((id)=>conditionName(flow,id)).join("; ")||say("known-none");
const perhaps=state.facts.mayHold.filter((id)=>!state.facts.holds.includes(id));
const given=[...new Set(state.log.filter((entry)=>entry.what==="caution").map((entry)=>hazardName(flow,entry.hazard)))];
const note=state.log.findLast((entry)=>entry.what==="note");
const ended=state.screen.name==="ending"?state.log.findLast((entry)=>entry.what==="ending"&&entry.depth===0):null;
const shown=["step","wait"].includes(state.screen.name)?stepOf(flow,state).text:state.path.length>0?pathWords(flow,state.path.at(-1)).asked:null;
const stopped=state.screen.name==="hand-over"?unsorted(flow,state.log.at(-1)):[];
const end=ended?say(howChecked(flow,state)==="told"?"summary-ended-told":"summary-ended",{outcome:outcomeWords(ended.outcome)}):shown?say("summary-last",{step:shown}):null;
return[
say("summary-state",{names:names(state.facts.holds)}),...(perhaps.length>0?[say("summary-perhaps",{names:names(perhaps)})]:[]),
say("summary-cautions",{names:given.join("; ")||say("known-none")}),...faultLines(flow,state),...(note?[say("summary-note",note)]:[]),...stopped,...(end===null?[]:[end]),
];
}
function faultLines(flow,state){
if(state.facts.checked||(flow.faults?.known??[]).length===0)return[];
const left=sharesLeft(flow,state);
if(left.length===0)return[say("summary-no-fault-fits")];
const byWord=ruledOutByWord(flow,state,left).map((one)=>one.name);
return[
...listed("summary-faults",left.map((one)=>`${one.name} ${shareText(one.share)}`),2),
...(byWord.length===0?[]:listed("summary-by-word",byWord,1)),
...listed("summary-bring",bag(flow,left).map((one)=>(one.share===null?one.name:`${one.name} ${shareText(one.share)}`)),2),
];
}
function shareText(share){
const whole=Math.round(share*100);
return whole===0?say("share-least"):say("share",{share:whole});
}
function listed(key,names,most){
const lines=[say(key)];
for(const[place,name]of names.entries()){
const rest=names.length-place;
const line=lines.at(-1)??"";
const between=place===0?" ":"; ";
const room=WIDEST-(lines.length===most&&rest>1?say("summary-more",{count:rest-1}).length+2:0);
if([...line,...between,...name].length<=room)lines[lines.length-1]=line+between+name;
else if(lines.length<most)lines.push(`  ${name}`);
else return[...lines.slice(0,-1),`${line}; ${say("summary-more",{count:rest})}`];
}
return names.length===0?[]:lines;
}
function answerLine(flow,state,entry){
const{asked,said}=pathWords(flow,entry);
const how=say(entry.told?"told":"seen");
const room=Math.max(20,WIDEST-[...`${how}:  ${said}`].length);
return`${how}: ${fitted(asked,room)} ${said}`;
}
function fitted(line,widest){
const flat=line.replace(/[<>]/g," ").replace(/(\S)\s+/g,"$1 ").trimEnd();
const letters=[...flat];
return letters.length<=widest?flat:`${letters.slice(0,widest-1).join("")}…`;
}
return{MOST_LINES,WIDEST,summaryText,shareText};
})();
modules["parts/follower/packet-sheet.js"]=(function(){
const{packed}=modules["script/packet.js"];
const{qrCode}=modules["script/qr.js"];
const{otherModelOf}=modules["script/runs.js"];
const{bag,sharesLeft}=modules["script/shares.js"];
const{brokenAt,serviceRecord}=modules["script/service-record.js"];
const{copyText}=modules["parts/follower/copy.js"];
const{deviceStore}=modules["parts/follower/device.js"];
const{make}=modules["parts/follower/make.js"];
const{modelName}=modules["parts/follower/record.js"];
const{shareText,summaryText}=modules["parts/follower/summary.js"];
const{say}=modules["parts/follower/words.js"];
const QUIET=4;
function drawPacket({flow,state,into,send,address}){
const link=`${address}#run=${packed(flow,state)}`;
into.replaceChildren(
...(state.about.serial===""?[askSerial(send)]:[]),
...otherModel(flow,state),
make("p",{},say("packet-why")),
...(address.startsWith("file:")?[make("p",{class:"follower__notice"},say("packet-folder"))]:[]),
copyText("follower-link",say("packet-link"),link,say("packet-copy"),3),
code(link),
copyText("follower-ticket",say("packet-ticket"),summaryText(flow,state),say("packet-ticket-copy"),12),
...stillPossible(flow,state),
record(flow,state),
);
}
function otherModel(flow,state){
const{serial}=state.about;
const was=otherModelOf(deviceStore(),serial,state.model);
return was===null?[]:[make("p",{class:"follower__problem"},say("other-model",{serial,model:modelName(flow,was)}))];
}
function stillPossible(flow,state){
const left=state.facts.checked?[]:sharesLeft(flow,state);
if(left.length===0)return[];
const rows=(all)=>all.map(({name,share})=>make("li",{class:"follower__share"},make("span",{},name),make("span",{class:"follower__percent"},share===null?say("share-always"):shareText(share))));
const part=(kind,items)=>(items.length===0?[]:[make("h3",{class:"follower__part"},say(kind)),make("ul",{class:"follower__shares","data-shares":kind},...items)]);
return[...part("packet-faults",rows(left)),make("p",{class:"follower__small"},say("packet-faults-why")),...part("packet-bring",rows(bag(flow,left)))];
}
function askSerial(send){
const input=(make("input",{id:"follower-serial",class:"follower__text",maxlength:200,autocomplete:"off"}));
const save=()=>send({type:"machine",serial:input.value});
const unknown=()=>send({type:"machine",serial:"unknown"});
return make("div",{class:"follower__notice"},make("label",{for:"follower-serial"},say("packet-serial")),input,
make("div",{class:"follower__row"},make("button",{type:"button",class:"follower__minor",click:save},say("packet-serial-save")),make("button",{type:"button",class:"follower__minor",click:unknown},say("packet-serial-unknown"))));
}
function code(link){
const rows=qrCode(link);
if(rows===null)return make("p",{},say("packet-long"));
const size=rows.length+2*QUIET;
const dark=rows.flatMap((row,y)=>runsOf(row).map(([x,wide])=>`M${x+QUIET} ${y+QUIET}h${wide}v1h-${wide}z`)).join("");
const svg=drawing("svg",{viewBox:`0 0 ${size} ${size}`,class:"follower__code",role:"img","aria-label":say("packet-code-alt"),"shape-rendering":"crispEdges"});
svg.append(drawing("rect",{width:size,height:size,fill:"#ffffff"}),drawing("path",{d:dark,fill:"#000000"}));
const figure=make("figure",{class:"follower__figure"},make("figcaption",{class:"follower__recordname"},say("packet-code")));
figure.append(svg);
return figure;
}
function runsOf(row){
const runs=[];
for(const[x,dark]of row.entries()){
const last=runs.at(-1);
if(dark&&last&&last[0]+last[1]===x)last[1]+=1;
else if(dark)runs.push([x,1]);
}
return runs;
}
function drawing(tag,attributes){
const element=document.createElementNS("http://www.w3.org/2000/svg",tag);
for(const[name,value]of Object.entries(attributes))element.setAttribute(name,String(value));
return element;
}
function record(flow,state){
const whole=serviceRecord(flow,state);
const text=`${JSON.stringify(whole,null,2)}\n`;
const broken=brokenAt(whole);
const chain=make("p",{class:"follower__small","data-chain":broken??"whole"},broken===null?say("packet-chain-whole"):say("packet-chain-broken",{place:broken}));
const link=download(text,`${flow.procedure}-${new Date(state.log[0].at).toISOString().slice(0,16).replace(/[T:]/g,"-")}.json`);
return make("div",{class:"follower__copy"},make("h3",{class:"follower__part"},say("packet-record")),link,chain,copyText("follower-json",say("packet-record-json"),text,say("copy"),5));
}
function download(text,name){
try{
const href=URL.createObjectURL(new Blob([text],{type:"application/json"}));
return make("a",{class:"follower__link",href,download:name},say("packet-download"));
}catch{
return null;
}
}
return{drawPacket};
})();
modules["script/hand-over.js"]=(function(){
const{drawPacket}=modules["parts/follower/packet-sheet.js"];
const{unpacked}=modules["script/packet.js"];
document.addEventListener("stepward:hand-over",(event)=>drawPacket((event).detail));
document.addEventListener("stepward:unpack",(event)=>{
const{detail}=(event);
detail.result=unpacked(detail.flow,detail.text);
});
document.dispatchEvent(new CustomEvent("stepward:hand-over-ready"));
return{};
})();
})();
